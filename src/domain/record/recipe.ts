/** One component of a blend. Parts are whole numbers, shares of the finished, roasted blend by weight. */
export type RecipePart = {
  readonly coffeeId: number;
  readonly parts: number;
  /** Components with the same group are joined green and roasted together; null is joined roasted. */
  readonly roastGroup: string | null;
};

/** One version of a blend; a recipe keeps its history. */
export type Recipe = {
  readonly id: number;
  readonly name: string;
  readonly versionId: number;
  readonly version: number;
  /** In recipe order: labels, percentages and ties follow it. */
  readonly parts: readonly RecipePart[];
  /** Measured loss of a roast group, hundredths of a percent, where known. */
  readonly groupLossBp: ReadonlyMap<string, number>;
};
