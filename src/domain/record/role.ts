/**
 * What a coffee does in a blend. `base`: body and familiar coffee flavour; `sweetness`: sweetness and
 * complexity; `highlight`: the vivid top.
 */
export const ROLES = ['base', 'sweetness', 'highlight'] as const;
export type Role = (typeof ROLES)[number];
