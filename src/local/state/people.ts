import { z } from 'zod';
import type { Person } from '../api-types.js';
import { type Db, row, rows, run } from './database.js';

const Row = z
  .object({
    id: z.string(),
    name: z.string(),
    real_name: z.string(),
    tz: z.string(),
    is_bot: z.number(),
    deleted: z.number(),
  })
  .transform(
    (one): Person => ({
      id: one.id,
      name: one.name,
      realName: one.real_name,
      tz: one.tz,
      isBot: one.is_bot === 1,
      deleted: one.deleted === 1,
    }),
  );
const Found = Row.optional();

export function allPeople(db: Db): readonly Person[] {
  return rows(db, 'select * from person order by rowid').map((one) => Row.parse(one));
}

export function findPerson(db: Db, id: string): Person | undefined {
  return Found.parse(row(db, 'select * from person where id = ?', id));
}

export function findPersonByName(db: Db, name: string): Person | undefined {
  return Found.parse(row(db, 'select * from person where name = ?', name.toLowerCase()));
}

/** Adds a person under an id that can be read: U, zeros, the handle in capitals. */
export function addPerson(db: Db, person: Omit<Person, 'id' | 'deleted'>): Person {
  const id = freeId('U', person.name, (candidate) => findPerson(db, candidate) !== undefined);
  run(
    db,
    'insert into person (id, name, real_name, tz, is_bot) values (?, ?, ?, ?, ?)',
    id,
    person.name,
    person.realName,
    person.tz,
    person.isBot ? 1 : 0,
  );
  return { ...person, id, deleted: false };
}

export function setPersonDeleted(db: Db, id: string, deleted: boolean): void {
  run(db, 'update person set deleted = ? where id = ?', deleted ? 1 : 0, id);
}

/** A letter, zeros to ten characters, the name in capitals; counted up when it is taken. */
export function freeId(letter: string, name: string, taken: (id: string) => boolean): string {
  const plain = name.toUpperCase().replaceAll(/[^A-Z0-9]/g, '');
  for (let number = 1; ; number += 1) {
    const id = `${letter}${(number === 1 ? plain : `${plain}${number}`).padStart(9, '0')}`;
    if (!taken(id)) return id;
  }
}
