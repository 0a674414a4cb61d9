/** A value as makers publish it. `low` to `high` are the guaranteed ends, or the span across makers. */
export interface Spread {
  readonly low: number;
  readonly typical: number;
  readonly high: number;
}
