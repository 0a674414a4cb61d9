import { isAlias, isMap, isScalar, isSeq, type Alias, type Document, type Node, type ParsedNode } from 'yaml';
import { shortened, shown, type Finding } from './file-problems.js';
import { obeyedSign } from './obeyed-signs.js';

/** The schemas nest five deep. */
export const DEEPEST = 20;
/** Aliases (`*name`) that a file may use; more could blow up a small file to a huge value. */
export const MOST_ALIASES = 20;
export const TOO_MANY_ALIASES = `too many aliases (*name); ${MOST_ALIASES} are allowed, so write the values out`;

/** Goes through the parsed file once: notes lines; finds duplicate keys and what nests too deep. */
export class YamlWalk {
  readonly findings: Finding[] = [];
  private readonly lines = new Map<string, number>();
  private aliases = 0;
  private readonly document: Document.Parsed;
  private readonly lineAt: (offset: number) => number;

  constructor(document: Document.Parsed, lineAt: (offset: number) => number) {
    this.document = document;
    this.lineAt = lineAt;
  }

  lineOf(path: readonly string[]): number {
    for (let length = path.length; length > 0; length -= 1) {
      const line = this.lines.get(JSON.stringify(path.slice(0, length)));
      if (line !== undefined) return line;
    }
    return 1;
  }

  enter(node: ParsedNode, path: readonly string[]): void {
    if (path.length > DEEPEST)
      return this.refuse(path.slice(0, 3), 'deeper', `nests too deep; ${DEEPEST} levels are allowed`);
    if (isAlias(node)) return this.enterAlias(node, path);
    if (isScalar(node)) return this.enterWord(node.value, path);
    if (isSeq(node)) {
      node.items.forEach((item, index) => {
        this.note([...path, String(index)], item);
        this.enter(item, [...path, String(index)]);
      });
    }
    if (isMap(node)) this.enterMap(node.items, path);
  }

  private enterAlias(node: Alias.Parsed, path: readonly string[]): void {
    this.aliases += 1;
    const marked = node.resolve(this.document);
    if (this.aliases > MOST_ALIASES) {
      if (this.aliases === MOST_ALIASES + 1) this.refuse(path, 'an alias', TOO_MANY_ALIASES);
    } else if (marked === undefined) {
      const name = shortened(node.source);
      this.refuse(
        path,
        `*${name}`,
        `found *${name}, an alias, but nothing is marked &${name} before it; put it in quotes`,
      );
    } else if (isAround(marked, node)) {
      this.refuse(
        path,
        `*${shortened(node.source)}`,
        'an alias stands for what it stands in; write the value out',
      );
    }
  }

  private enterWord(word: unknown, path: readonly string[]): void {
    const sign = typeof word === 'string' ? obeyedSign(word) : null;
    if (sign !== null)
      this.refuse(path, sign, `found ${shown(word)}; ${sign} in it is obeyed and not shown, take it out`);
  }

  private enterMap(items: readonly KeyAndValue[], path: readonly string[]): void {
    for (const { key, value } of items) {
      if (!isScalar(key)) {
        this.refuse(
          path,
          'a key that is no word',
          'a key here is a list, a group or an alias; a key is one word',
        );
        continue;
      }
      const inner = [...path, String(key.value)];
      const before = this.lines.get(JSON.stringify(inner));
      this.note(inner, key);
      this.enterWord(key.value, inner);
      if (before !== undefined) {
        this.refuse(
          inner,
          'the same key twice',
          `stands here twice, first on line ${before}; keep one of the two`,
        );
      } else if (inner.at(-1) === '__proto__') {
        // It means something to JavaScript objects and would vanish without a word.
        this.refuse(inner, '__proto__', "this name can't be used as a key; choose another");
      } else if (value !== null) {
        this.enter(value, inner);
      }
    }
  }

  private refuse(path: readonly string[], found: string, sentence: string): void {
    this.findings.push({ path, found, allowed: '', sentence });
  }

  private note(path: readonly string[], node: ParsedNode): void {
    this.lines.set(JSON.stringify(path), this.lineAt(node.range[0]));
  }
}

function isAround(outer: Node, { range }: Alias.Parsed): boolean {
  return outer.range != null && outer.range[0] <= range[0] && range[0] < outer.range[2];
}

interface KeyAndValue {
  readonly key: ParsedNode;
  readonly value: ParsedNode | null;
}
