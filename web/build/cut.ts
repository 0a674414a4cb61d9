/** From the first place of a text up to the next one of another, and what stands there instead. */
export type Cut = readonly [from: string, to: string, instead?: string];

/** `code` with all cuts made, one after the other. A text that isn't found is an error: the package has changed. */
export function cutAll(code: string, cuts: readonly Cut[]): string {
  return cuts.reduce((left, [from, to, instead = '']) => {
    const start = left.indexOf(from);
    const end = left.indexOf(to, start + from.length);
    if (start < 0 || end < 0) throw new Error(`a package has changed: no ${from} before ${to}`);
    return left.slice(0, start) + instead + left.slice(end);
  }, code);
}
