/** One thing the doctor looked at. */
export type Finding = { readonly ok: boolean; readonly what: string; readonly fix: string | null };

export function good(what: string): Finding {
  return { ok: true, what, fix: null };
}

export function bad(what: string, fix: string): Finding {
  return { ok: false, what, fix };
}
