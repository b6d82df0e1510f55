/** Where the page is: kept in the address, so that back works and a tab can be one person. */
export interface Route {
  /** The person's handle, or null while nobody is picked. */
  readonly handle: string | null;
  /** 'home', a channel id, or null for the list. */
  readonly place: string | null;
  readonly thread: string | null;
}

/** Reads an address like #/noor/C01/1767225600.000100. */
export function readRoute(hash: string): Route {
  const [handle = '', place = '', thread = ''] = hash.replace(/^#\/?/, '').split('/').map(decode);
  return { handle: handle || null, place: place || null, thread: thread || null };
}

function decode(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return '';
  }
}

/** Writes the address of a place; readRoute reads it back. */
export function writeRoute(route: Partial<Route>): string {
  const parts = [route.handle, route.place, route.thread];
  const end = parts.findIndex((part) => !part);
  return `#/${(end === -1 ? parts : parts.slice(0, end)).map((part) => encodeURIComponent(part ?? '')).join('/')}`;
}
