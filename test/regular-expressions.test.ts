import { readdirSync, readFileSync } from 'node:fs';
import { join, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { analyse } from 'scslre';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';

const ROOT = fileURLToPath(new URL('..', import.meta.url));

interface Literal {
  readonly place: string;
  readonly text: string;
}

function sources(): ts.SourceFile[] {
  return ['daemon', 'drivers', 'web'].flatMap((folder) =>
    readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
      .filter((name) => name.endsWith('.ts'))
      .map((name) => {
        const file = join(folder, name);
        const text = readFileSync(join(ROOT, file), 'utf8');
        return ts.createSourceFile(file.split(sep).join('/'), text, ts.ScriptTarget.Latest, true);
      }),
  );
}

function found<T>(source: ts.SourceFile, look: (node: ts.Node) => T | null): T[] {
  const result: T[] = [];
  const visit = (node: ts.Node): void => {
    const one = look(node);
    if (one !== null) result.push(one);
    ts.forEachChild(node, visit);
  };
  visit(source);
  return result;
}

function placeOf(source: ts.SourceFile, node: ts.Node): string {
  return `${source.fileName}:${source.getLineAndCharacterOfPosition(node.getStart()).line + 1}`;
}

function literalsIn(source: ts.SourceFile): Literal[] {
  return found(source, (node) =>
    ts.isRegularExpressionLiteral(node) ? { place: placeOf(source, node), text: node.text } : null,
  );
}

/** What makes it take more than linear time, by the static analysis of `scslre`. */
function slow(text: string): string[] {
  const end = text.lastIndexOf('/');
  const { reports } = analyse({ source: text.slice(1, end), flags: text.slice(end + 1) });
  return reports.map(({ type, character }) => `${type}: many "${character.pick}"`);
}

describe('regular expressions', () => {
  const all = sources();

  it('each takes time that grows no faster than the text', () => {
    const literals = all.flatMap(literalsIn);
    expect(literals.length).toBeGreaterThan(150);
    const reported = literals.flatMap(({ place, text }) =>
      slow(text).map((why) => `${place} ${text} ${why}`),
    );
    expect(reported).toEqual([]);
  });

  it.each(['/^(a+)+$/', '/(a|a)*b/', '/^\\d+\\d*x/', '/\\s+$/', '/^\\s*a\\s*\\s*b/'])(
    'one that takes longer, %s, is noticed',
    (text) => expect(slow(text)).not.toEqual([]),
  );

  it("none is made while running, so that a user's pattern never becomes one", () => {
    const made = all.flatMap((source) =>
      found(source, (node) =>
        (ts.isNewExpression(node) || ts.isCallExpression(node)) && node.expression.getText() === 'RegExp'
          ? placeOf(source, node)
          : null,
      ),
    );
    expect(made).toEqual([]);
  });
});
