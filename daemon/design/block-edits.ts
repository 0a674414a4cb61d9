import { isMap, isScalar, stringify } from 'yaml';
import { blockEntry, firstOnLine, lineStartAt } from './text-lines.js';
import { yamlDocument } from './yaml-text.js';

/**
 * The text with another name for a key; everything else stays. The key is there.
 * @throws {FileProblems} when the text is no YAML.
 */
export function withKeyNamed(text: string, path: readonly string[], name: string): string {
  const range = keyRange(text, path);
  if (range === null) return text;
  return `${text.slice(0, range[0])}${stringify(name).trim()}${text.slice(range[1])}`;
}

/**
 * The text with lines as the last entry of a group at the top, which is made where it is missing or empty.
 * @param entry its own lines, not moved in
 * @throws {FileProblems} when the text is no YAML.
 */
export function withEntryAdded(text: string, group: string, entry: string): string {
  const document = yamlDocument(text);
  const top = document.contents;
  const pairs = isMap(top) ? top.items : [];
  const place = pairs.findIndex(({ key }) => isScalar(key) && key.value === group);
  const value = pairs[place]?.value;
  if (place < 0) return appended(text, `${group}:\n${blockEntry(entry, 2, '')}`);
  if (!isMap(value) || value.items.length === 0 || value.flow === true) {
    const at = keyRange(text, [group])?.[0] ?? 0;
    const end = isMap(value) || isScalar(value) ? (value.range?.[1] ?? at) : at;
    const kept = isMap(value) && value.items.length > 0 ? stringify(value.toJSON()).trimEnd() : null;
    const inner = [...(kept === null ? [] : [kept]), entry].map((each) => blockEntry(each, 2, '')).join('\n');
    return `${text.slice(0, at)}${group}:\n${inner}${text.slice(Math.max(end, at + group.length + 1))}`;
  }
  const first = firstKeyStart(value.items[0]?.key);
  const column = first - lineStartAt(text, first);
  const next = pairs[place + 1];
  if (next === undefined) return appended(text, blockEntry(entry, column, text));
  const at = firstOnLine(text, firstKeyStart(next.key));
  const end = text.includes('\r\n') ? '\r\n' : '\n';
  return `${text.slice(0, at)}${blockEntry(entry, column, text)}${end}${text.slice(at)}`;
}

function appended(text: string, lines: string): string {
  const end = text.includes('\r\n') ? '\r\n' : '\n';
  const gap = text === '' || text.endsWith('\n') ? '' : end;
  return `${text}${gap}${lines}${end}`;
}

function keyRange(text: string, path: readonly string[]): readonly [number, number] | null {
  const document = yamlDocument(text);
  const group: unknown = path.length === 1 ? document.contents : document.getIn(path.slice(0, -1), true);
  if (!isMap(group)) return null;
  const pair = group.items.find(({ key }) => isScalar(key) && String(key.value) === path.at(-1));
  const range = isScalar(pair?.key) ? pair.key.range : null;
  return range ? [range[0], range[1]] : null;
}

function firstKeyStart(key: unknown): number {
  return isScalar(key) ? (key.range?.[0] ?? 0) : 0;
}
