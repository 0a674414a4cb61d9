import { isAlias, isMap, isScalar, isSeq, stringify, type Document } from 'yaml';
import { blockEntry, firstOnLine, lineEndAfter, lineStartAt } from './text-lines.js';
import { yamlDocument } from './yaml-text.js';

/** What may be written at a place of a design file. */
export type EditValue =
  string | number | boolean | readonly EditValue[] | { readonly [key: string]: EditValue };

/** One change of a design file: a value at a path of keys, or nothing there any more (null). */
export interface Edit {
  readonly path: readonly string[];
  readonly value: EditValue | null;
}

/** What a design file doesn't say by itself, for edits of it. */
export interface EditContext {
  /** A default, or a single value that stands for a group, written out as a group; empty for neither. */
  readonly groupAt: (path: readonly string[]) => Readonly<Record<string, EditValue>>;
  /** The order of the keys at the top. */
  readonly order: readonly string[];
}

const NO_CONTEXT: EditContext = { groupAt: () => ({}), order: [] };

type Parsed = Document.Parsed;
interface Pair {
  readonly key: unknown;
  readonly value: unknown;
}

/**
 * A YAML text with other values in it. Only what an edit is about is replaced in the text, so that remarks, order,
 * blanks and line ends stay as a person wrote them.
 * @param text has a group of keys at the top
 * @throws {FileProblems} when the text is no YAML, or too large with the edits in it.
 */
export function editedText(text: string, edits: readonly Edit[], context: EditContext = NO_CONTEXT): string {
  return edits.reduce((now, edit) => oneEdit(now, edit, context), text);
}

function oneEdit(text: string, { path, value }: Edit, context: EditContext): string {
  if (value === null) return without(text, path);
  for (let length = 1; length < path.length; length += 1) {
    const above = path.slice(0, length);
    const opened = withGroup(text, above, path[length] ?? '', context);
    // A group that is written out anew is there with everything that stands in it: look at the next key again.
    if (opened !== null) return oneEdit(opened, { path, value }, context);
  }
  return withValue(text, path, value, context.order);
}

/** The text with a group at `above` where none is written; null when there is one. */
function withGroup(text: string, above: readonly string[], key: string, context: EditContext): string | null {
  const document = yamlDocument(text);
  const found: unknown = document.getIn(above, true);
  if (isMap(found)) return null;
  const aim = isAlias(found) ? found.resolve(document) : undefined;
  const group = isMap(aim) ? (aim.toJSON() as Record<string, EditValue>) : context.groupAt(above);
  // An empty group is no group to a reader of the file, so it gets the key that it is written for.
  const begun = Object.keys(group).length === 0 ? { [key]: 0 } : group;
  return withValue(text, above, begun, context.order);
}

function withValue(
  text: string,
  path: readonly string[],
  value: EditValue,
  order: readonly string[],
): string {
  const document = yamlDocument(text);
  const pair = pairAt(document, path);
  if (pair !== undefined) return valueReplaced(text, pair, value);
  const group: unknown = path.length === 1 ? document.contents : document.getIn(path.slice(0, -1), true);
  const entry = `${written(path.at(-1) ?? '')}: ${written(value)}`;
  if (!isMap(group) || group.items.length === 0) throw new RangeError(`nothing holds ${path.join('.')}`);
  const last = endOf(group.items.at(-1) as Pair);
  if (group.flow === true) return spliced(text, last, last, `, ${entry}`);
  const next = path.length === 1 ? nextInOrder(group.items, path[0] ?? '', order) : undefined;
  const column = columnOf(text, startOf(group.items[0] as Pair));
  if (next !== undefined) {
    const at = firstOnLine(text, startOf(next));
    return spliced(text, at, at, `${blockEntry(entry, column, text)}${lineEnd(text).repeat(2)}`);
  }
  const at = lineEndAfter(text, last);
  const gap = path.length === 1 ? lineEnd(text) : '';
  return spliced(text, at, at, `${lineEnd(text)}${gap}${blockEntry(entry, column, text)}`);
}

/** The first key at the top that stands after this one in the order of the schema. */
function nextInOrder(pairs: readonly Pair[], key: string, order: readonly string[]): Pair | undefined {
  const place = order.indexOf(key);
  return place < 0 ? undefined : pairs.find((pair) => order.indexOf(nameOf(pair)) > place);
}

function valueReplaced(text: string, pair: Pair, value: EditValue): string {
  const start = afterColon(text, pair);
  const { value: found } = pair;
  const isNothing = isScalar(found) && found.value === null && found.range?.[0] === found.range?.[1];
  if (found === null || isNothing) return spliced(text, start, start, ` ${written(value)}`);
  const isOnLine = !text.slice(start, rangeOf(found)[0]).includes('\n');
  const anchor = isScalar(found) && found.anchor !== undefined ? `&${found.anchor} ` : '';
  if (isOnLine) return spliced(text, rangeOf(found)[0], endOf(pair), written(value), anchor);
  // A group on lines of its own gives way to one value; the remark beside its name stays.
  const remark = /^[ \t]*(#[^\r\n]*)/.exec(text.slice(start))?.[1];
  return spliced(text, start, endOf(pair), ` ${written(value)}${remark === undefined ? '' : ` ${remark}`}`);
}

function without(text: string, path: readonly string[]): string {
  const document = yamlDocument(text);
  const pair = pairAt(document, path);
  if (pair === undefined) return text;
  const group: unknown = path.length === 1 ? document.contents : document.getIn(path.slice(0, -1), true);
  if (!isMap(group)) return text;
  // A group with nothing in it is no group any more.
  if (group.items.length === 1 && path.length > 1) return without(text, path.slice(0, -1));
  const pairs = group.items as Pair[];
  const place = pairs.findIndex((one) => nameOf(one) === path.at(-1));
  if (group.flow === true) {
    const next = pairs[place + 1];
    const before = pairs[place - 1];
    if (next !== undefined) return spliced(text, startOf(pair), startOf(next), '');
    return spliced(text, before === undefined ? startOf(pair) : endOf(before), endOf(pair), '');
  }
  const end = lineEndAfter(text, endOf(pair));
  const from = lineStartAt(text, startOf(pair));
  return spliced(text, from, Math.min(text.length, end + lineEnd(text).length), '');
}

function pairAt(document: Parsed, path: readonly string[]): Pair | undefined {
  const group: unknown = path.length === 1 ? document.contents : document.getIn(path.slice(0, -1), true);
  if (!isMap(group)) return undefined;
  return (group.items as Pair[]).find((pair) => nameOf(pair) === path.at(-1));
}

function nameOf({ key }: Pair): string {
  return isScalar(key) ? String(key.value) : '';
}

function rangeOf(node: unknown): readonly [number, number] {
  const { range } = node as { range?: readonly [number, number, number] | null };
  if (!range) throw new RangeError('a part of the file has no place in it');
  return [range[0], range[1]];
}

function startOf({ key }: Pair): number {
  return rangeOf(key)[0];
}

/** Where what a pair says ends, remarks and line end left out. */
function endOf(pair: Pair): number {
  const { value } = pair;
  if (value === null || value === undefined) return rangeOf(pair.key)[1];
  if (isMap(value) && value.flow !== true && value.items.length > 0) return endOf(value.items.at(-1) as Pair);
  if (isSeq(value) && value.flow !== true && value.items.length > 0) {
    return endOf({ key: pair.key, value: value.items.at(-1) });
  }
  return rangeOf(value)[1];
}

function afterColon(text: string, { key }: Pair): number {
  return text.indexOf(':', rangeOf(key)[1]) + 1;
}

function columnOf(text: string, at: number): number {
  return at - lineStartAt(text, at);
}

function lineEnd(text: string): string {
  return text.includes('\r\n') ? '\r\n' : '\n';
}

/** As it stands on one line. */
function written(value: EditValue): string {
  return stringify(value, { collectionStyle: 'flow', lineWidth: 0 }).trim();
}

function spliced(text: string, from: number, to: number, fresh: string, before = ''): string {
  return `${text.slice(0, from)}${before}${fresh}${text.slice(to)}`;
}
