import { isMap, isScalar } from 'yaml';
import { editedText } from './edit-text.js';
import { railText, type NewRail } from './new-design.js';
import { blockEntry, lineEndAfter, lineStartAt } from './text-lines.js';
import { yamlDocument, yamlValue } from './yaml-text.js';

/** A design's text with one more rail below the others. @param text has a group of rails */
export function withRail(text: string, rail: NewRail): string {
  const rails: unknown = yamlDocument(text).get('rails', true);
  if (!isMap(rails)) throw new RangeError('the design has no group of rails');
  const [first] = rails.items;
  const key: unknown = first?.key;
  const fresh = railText(rail).replace(/^ {2}/gm, '').trimEnd();
  if (rails.flow === true || !isScalar(key) || !key.range) {
    const value = (yamlValue(fresh) as Record<string, Record<string, string>>)[rail.name];
    return editedText(text, [{ path: ['rails', rail.name], value: value ?? {} }]);
  }
  // Put in as a single value first: that finds the place.
  const held = editedText(text, [{ path: ['rails', rail.name], value: 0 }]);
  const column = key.range[0] - lineStartAt(text, key.range[0]);
  const line = `${' '.repeat(column)}${rail.name}: 0`;
  const at = held.lastIndexOf(line);
  const lineEnd = held.includes('\r\n') ? '\r\n' : '\n';
  return `${held.slice(0, at)}${lineEnd}${blockEntry(fresh, column, held)}${held.slice(lineEndAfter(held, at + line.length))}`;
}
