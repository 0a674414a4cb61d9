/** A probability for a person: nothing is certain and nothing is impossible. */
export function percentWords(probability: number): string {
  const whole = Math.round(100 * probability);
  if (whole < 1) return 'under 1 %';
  return whole > 99 ? 'over 99 %' : `${whole} %`;
}
