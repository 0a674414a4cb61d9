import { designSchema } from './design.js';
import { editedText, type Edit, type EditValue } from './edit-text.js';
import { groupIn, type Written } from './form-choices.js';
import { LOAD_STATES } from './design-load.js';
import { yamlValue } from './yaml-text.js';

/** A cure's dotted key as a path. No key that a cure changes has a dot in itself. */
export function designKeys(key: string): readonly string[] {
  return key.split('.');
}

/** A design's text with other values in it. A text that is a list in brackets is written as the list. */
export function editedDesign(text: string, edits: readonly Edit[]): string {
  const order = Object.keys(designSchema.shape);
  return edits.reduce((now, { path, value }) => {
    const written = groupIn(yamlValue(now));
    const edit = { path, value: value === null ? null : listed(value) };
    return editedText(now, [edit], { order, groupAt: (above) => groupAt(above, written) });
  }, text);
}

/** A default of the schema written out, or a single value as the group that it stands for. */
function groupAt(path: readonly string[], written: Written): Readonly<Record<string, EditValue>> {
  const found = path.reduce<unknown>((inner, key) => groupIn(inner)[key], written);
  const last = path.at(-1);
  if (last === 'load' && found !== undefined) {
    return Object.fromEntries(LOAD_STATES.map((state) => [state, found as EditValue]));
  }
  if (last === 'series' && typeof found === 'number') return { ohms: found };
  if (path.join('.') === 'mains.ambient')
    return { ...designSchema.shape.mains.shape.ambient.parse(undefined) };
  return {};
}

function listed(value: EditValue): EditValue {
  if (typeof value === 'object' && !Array.isArray(value)) {
    return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, listed(inner)]));
  }
  if (typeof value !== 'string' || !value.startsWith('[')) return value;
  try {
    return JSON.parse(value) as EditValue;
  } catch {
    return value;
  }
}
