const types = new Map([
  ['html', 'text/html; charset=utf-8'],
  ['css', 'text/css; charset=utf-8'],
  ['js', 'text/javascript; charset=utf-8'],
  ['json', 'application/json; charset=utf-8'],
  ['map', 'application/json; charset=utf-8'],
  ['svg', 'image/svg+xml'],
  ['png', 'image/png'],
  ['jpg', 'image/jpeg'],
  ['jpeg', 'image/jpeg'],
  ['gif', 'image/gif'],
  ['ico', 'image/x-icon'],
  ['pdf', 'application/pdf'],
  ['csv', 'text/csv'],
  ['txt', 'text/plain'],
]);

/** Content type by the end of a file's name; nothing when the end is not one we serve. */
export function contentTypeOf(name: string): string | undefined {
  return types.get(name.split('.').at(-1)?.toLowerCase() ?? '');
}

/** Media type of an uploaded file, without parameters. */
export function mimetypeOf(name: string): string {
  return contentTypeOf(name)?.split(';')[0] ?? 'application/octet-stream';
}
