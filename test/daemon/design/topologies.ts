import { readFileSync } from 'node:fs';
import type { Design } from '../../../daemon/design/design.js';
import { loadDesign } from '../../../daemon/design/load.js';
import { changed, problemsOf, type Change } from './signal-cabin.js';

const EXAMPLES = new URL('../../../daemon/design/examples/', import.meta.url);

/** The text of an example: `turntable` has split rails, `goods-crane` a filter and a shared heatsink. */
export function exampleText(name: string, kind: 'design' | 'bench' = 'design'): string {
  return readFileSync(new URL(`${name}/${name}.${kind}.yaml`, EXAMPLES), 'utf8');
}

/** An example design with some replacements. */
export function example(name: string, ...changes: readonly Change[]): Design {
  return loadDesign(changedText(name, changes), `${name}.design.yaml`);
}

/** What loading says about an example with some replacements: each message without the file's name and line. */
export function messages(name: string, ...changes: readonly Change[]): string[] {
  const text = changedText(name, changes);
  return problemsOf(() => loadDesign(text, 'x')).problems.map(({ text: message }) =>
    message.replace(/^x:\d+ /, ''),
  );
}

function changedText(name: string, changes: readonly Change[]): string {
  return changes.reduce((text, [from, to]) => changed(text, from, to), exampleText(name));
}
