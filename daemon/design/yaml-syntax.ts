import type { YAMLError } from 'yaml';
import { problemsAt, type FileProblem } from './file-problems.js';

/** Ours, in words for someone who has never read the YAML specification. */
const SYNTAX: Readonly<Record<string, string>> = {
  BAD_ALIAS: 'an asterisk begins an alias in YAML; put the value in quotes',
  BAD_DQ_ESCAPE: 'a backslash in double quotes begins an escape; use single quotes, or write \\\\',
  BAD_INDENT: 'the indentation is off; keys of one group begin in the same column, two blanks further in',
  BAD_SCALAR_START: 'a value may not begin with this sign; put it in quotes',
  BAD_COLLECTION_TYPE: 'a group of keys and a list are mixed here',
  BLOCK_AS_IMPLICIT_KEY:
    'two keys stand on one line, or a colon is in a value; put the value in quotes or on the next line',
  BLOCK_IN_FLOW:
    'a comma is missing between two keys inside { }, or an indented group stands there; write it on one line, with commas',
  MISSING_CHAR:
    'a sign is missing here or on a line above: a closing quote, a closing bracket, a comma, or the colon after a key',
  MULTILINE_IMPLICIT_KEY: 'a key has no colon after it',
  MULTIPLE_DOCS: 'the file has a second part after "---"; keep one part a file',
  TAB_AS_INDENT: 'a tab indents this line; YAML wants blanks',
  TAG_RESOLVE_FAILED: 'an exclamation mark begins a tag in YAML; put the value in quotes',
  UNEXPECTED_TOKEN:
    "this isn't expected here; look at the quotes, brackets, colons and indentation before it",
};
const NOT_YAML = "this can't be read as YAML; look at the quotes, brackets, colons and indentation";

/** A problem for the first error; what follows it is mostly its consequence. */
export function syntaxProblem(
  file: string,
  errors: readonly YAMLError[],
  lineAt: (offset: number) => number,
): FileProblem[] {
  const [first] = [...errors].sort((a, b) => a.pos[0] - b.pos[0]);
  const sentence = SYNTAX[first?.code ?? ''] ?? NOT_YAML;
  const line = lineAt(first?.pos[0] ?? 0);
  return problemsAt(file, [{ path: [], found: '', allowed: 'YAML 1.2', sentence }], () => line);
}
