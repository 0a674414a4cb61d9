import type { Design } from '../../design/design.js';
import type { DesignChange } from '../prediction.js';

/** The design with other values at these keys; the given one stays as it is. */
export function changedDesign(design: Design, changes: readonly DesignChange[]): Design {
  return changes.reduce<unknown>(
    (whole, { key, value }) => withValue(whole, key.split('.'), value),
    design,
  ) as Design;
}

function withValue(whole: unknown, [first, ...rest]: readonly string[], value: unknown): unknown {
  if (first === undefined) return value;
  const group = typeof whole === 'object' && whole !== null ? (whole as Record<string, unknown>) : {};
  return { ...group, [first]: withValue(group[first], rest, value) };
}
