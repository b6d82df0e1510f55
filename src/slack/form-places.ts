/** Where a form was opened from, so that what is said after submitting it appears there. */
type FormPlace = { readonly channel: string; readonly threadTs: string | null };
export type FormPlaces = {
  remember(viewId: string, place: FormPlace): void;
  find(viewId: string): FormPlace | null;
};

const KEPT = 1000;

/** Kept in memory only: after a restart the answer goes to the person's direct messages instead. */
export function createFormPlaces(): FormPlaces {
  const places = new Map<string, FormPlace>();
  return {
    remember(viewId, place) {
      places.delete(viewId);
      places.set(viewId, place);
      const oldest = places.keys().next();
      if (places.size > KEPT && !oldest.done) places.delete(oldest.value);
    },
    find: (viewId) => places.get(viewId) ?? null,
  };
}
