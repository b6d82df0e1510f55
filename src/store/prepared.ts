import { type Compilable, type CompiledQuery, type RawBuilder, sql } from 'kysely';
import type { DbOrTransaction } from './db.js';

type Value = string | number | null;
type Values = Readonly<Record<string, Value>>;
/** Stands in a query for a value that each run brings. */
type Given<V extends Values> = <Name extends keyof V & string>(name: Name) => RawBuilder<V[Name]>;
/** Runs the query with these values; all rows. */
type Run<V extends Values, Row> = (db: DbOrTransaction, values: V) => Promise<readonly Row[]>;

/**
 * A query on the path that every note takes: built and compiled once, run with new values each time. Building
 * a query costs more than SQLite needs to answer it.
 *
 * @example
 * const bySlug = prepared<{ slug: string }>()((db, given) =>
 *   db.selectFrom('coffee').select('id').where('name', '=', given('slug')));
 */
export function prepared<V extends Values>() {
  return <Row>(build: (db: DbOrTransaction, given: Given<V>) => Compilable<Row>): Run<V, Row> => {
    let compiled: CompiledQuery<Row> | undefined;
    return async (db, values) => {
      compiled ??= build(db, (name) => sql`${{ given: name }}`).compile();
      const parameters = compiled.parameters.map((parameter) =>
        isGiven(parameter) ? values[parameter.given] : parameter,
      );
      const { rows } = await db.executeQuery<Row>({ ...compiled, parameters });
      return rows;
    };
  };
}

function isGiven(parameter: unknown): parameter is { readonly given: string } {
  return typeof parameter === 'object' && parameter !== null && 'given' in parameter;
}
