/** Who speaks: `workspace` is Slack's team id, `person` a user id. Everything stored is keyed by the workspace. */
export type Who = { readonly workspace: string; readonly person: string };
