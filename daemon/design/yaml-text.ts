import { Lexer, LineCounter, parseDocument, type Document } from 'yaml';
import { FileProblems, problemsAt } from './file-problems.js';
import { syntaxProblem } from './yaml-syntax.js';
import { DEEPEST, MOST_ALIASES, TOO_MANY_ALIASES, YamlWalk } from './yaml-walk.js';

/** Files of people are a few kilobytes; more than this is something else. */
export const LARGEST_BYTES = 1024 * 1024;
const TOO_DEEP = `the file nests too deep; ${DEEPEST} levels are allowed`;
const MOST_BRACKETS = 60;
/** Words, signs, blanks and line ends; a design of four rails has about a thousand. */
const MOST_PIECES = 20_000;
const TOO_MANY_PIECES = `the file has more than ${MOST_PIECES} words and signs; some hundreds are usual, so this is probably another file`;
/** Lists within lists on one line: `- - - -`. */
const DEEP_RUN = /(?:[-?][ \t]+){21}/;

/** A YAML file's value and where each of its keys stands. */
export interface YamlText {
  readonly value: unknown;
  /** The line of a key, or of its closest ancestor that is written in the file. */
  lineOf(path: readonly string[]): number;
}

/**
 * Reads YAML 1.2 text.
 * @throws {FileProblems} on broken YAML, duplicate keys, and anything too large, too deep or with too many aliases.
 */
export function readYaml(text: string, file: string): YamlText {
  const { document, walk } = bounded(text, file);
  return { value: valueOf(document, file), lineOf: (path) => walk.lineOf(path) };
}

/** What a text says, right or not: null for an empty one, undefined for one that `readYaml` refuses. */
export function yamlValue(text: string): unknown {
  try {
    return readYaml(text, '').value;
  } catch (error) {
    if (!(error instanceof FileProblems)) throw error;
    return undefined;
  }
}

/**
 * The parts of a YAML text with their places in it, for edits that leave the rest of it alone.
 * @throws {FileProblems} as `readYaml` does.
 */
export function yamlDocument(text: string): Document.Parsed {
  return bounded(text, 'the text').document;
}

function bounded(
  text: string,
  file: string,
): { readonly document: Document.Parsed; readonly walk: YamlWalk } {
  if (text.length > LARGEST_BYTES || new TextEncoder().encode(text).length > LARGEST_BYTES) {
    throw whole(
      file,
      'the file is larger than 1 MiB; a few kilobytes are usual, so this is probably another file',
    );
  }
  if (nestsTooDeep(text)) throw whole(file, TOO_DEEP);
  if (hasTooManyPieces(text)) throw whole(file, TOO_MANY_PIECES);
  const counter = new LineCounter();
  // Duplicate keys are told by the walk below, with the line of the first one.
  const document = parseDocument(text, {
    lineCounter: counter,
    uniqueKeys: false,
    logLevel: 'error',
    // Ours are told by `syntaxProblem`; theirs take time that grows with the square of their number.
    prettyErrors: false,
  });
  const lineAt = (offset: number) => Math.max(1, counter.linePos(offset).line);
  if (document.errors.length > 0) throw new FileProblems(syntaxProblem(file, document.errors, lineAt));
  const walk = new YamlWalk(document, lineAt);
  if (document.contents !== null) walk.enter(document.contents, []);
  if (walk.findings.length > 0)
    throw new FileProblems(problemsAt(file, walk.findings, (path) => walk.lineOf(path)));
  return { document, walk };
}

function whole(file: string, sentence: string): FileProblems {
  return new FileProblems(problemsAt(file, [{ path: [], found: '', allowed: '', sentence }], () => 1));
}

/**
 * A quick look before parsing, since the parser's time and stack grow with the depth. Brackets in texts and remarks
 * count too, which is why the bound is wide.
 */
function nestsTooDeep(text: string): boolean {
  if (DEEP_RUN.test(text)) return true;
  let depth = 0;
  for (const sign of text) {
    if (sign === '[' || sign === '{') depth += 1;
    if ((sign === ']' || sign === '}') && depth > 0) depth -= 1;
    if (depth > MOST_BRACKETS) return true;
  }
  return false;
}

/** The parser's time grows with the square of their number in places; cutting a text into them doesn't. */
function hasTooManyPieces(text: string): boolean {
  const pieces = new Lexer().lex(text);
  for (let count = 0; count <= MOST_PIECES; count += 1) {
    if (pieces.next().done === true) return false;
  }
  return true;
}

function valueOf(document: Document.Parsed, file: string): unknown {
  try {
    return document.toJS({ maxAliasCount: MOST_ALIASES });
  } catch (error) {
    // The walk has refused aliases without an anchor, so this is the count of what they expand to.
    if (!(error instanceof ReferenceError)) throw error;
    throw whole(file, TOO_MANY_ALIASES);
  }
}
