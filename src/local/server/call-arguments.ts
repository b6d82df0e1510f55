import { z } from 'zod';
import { JsonObject } from '../api-types.js';
import { parsedJson } from '../parsed-json.js';

/** Arguments that travel as JSON text inside a form. */
const JSON_ARGUMENTS = new Set(['blocks', 'attachments', 'view', 'metadata', 'files', 'unfurls']);

/** A call's arguments from a form or JSON body and the address; what is not JSON where it should be stays text. */
export function callArguments(contentType: string, body: string, query: URLSearchParams): JsonObject {
  if (contentType.startsWith('application/json')) {
    return { ...Object.fromEntries(query), ...parsedJson(body, JsonObject) };
  }
  const fields = [...query, ...new URLSearchParams(body)];
  return Object.fromEntries(
    fields.map(([key, value]) => [
      key,
      JSON_ARGUMENTS.has(key) ? (parsedJson(value, z.json()) ?? value) : value,
    ]),
  );
}
