/** One thing that is wrong in a file of the user's. */
export interface FileProblem {
  readonly file: string;
  /** Counted from 1. */
  readonly line: number;
  /** Dotted path of keys, `rails.logic.r2`; empty for the file as a whole. */
  readonly key: string;
  /** What stands there, shortened; empty when it is missing. */
  readonly found: string;
  /** What may stand there. */
  readonly allowed: string;
  /** The whole message: place, what was found, what is allowed, and a guess at what was meant. */
  readonly text: string;
}

/** A file says something wrong. The message has one problem a line. */
export class FileProblems extends Error {
  override readonly name = 'FileProblems';
  readonly problems: readonly FileProblem[];

  constructor(problems: readonly FileProblem[]) {
    super(problems.map(({ text }) => text).join('\n'));
    this.problems = problems;
  }
}

/** A problem before its place in the file is known. */
export interface Finding {
  readonly path: readonly string[];
  readonly found: string;
  readonly allowed: string;
  /** Follows the place: `found -5; a positive number of ohms is allowed`. */
  readonly sentence: string;
  /** The line is that of the key's parent, since the key itself isn't there. */
  readonly missing?: boolean;
}

/** How many problems of one file are told; more is noise. */
export const MOST_TOLD = 40;

/** Puts places to findings, in the order of the file. */
export function problemsAt(
  file: string,
  findings: readonly Finding[],
  lineOf: (path: readonly string[]) => number,
): FileProblem[] {
  const problems = findings.map((finding) => placed(file, finding, lineOf(finding.path)));
  problems.sort((a, b) => a.line - b.line);
  if (problems.length <= MOST_TOLD) return problems;
  const last = placed(
    file,
    { path: [], found: '', allowed: '', sentence: 'and more; put these right first' },
    problems[MOST_TOLD]?.line ?? 1,
  );
  return [...problems.slice(0, MOST_TOLD), last];
}

function placed(file: string, { path, found, allowed, sentence }: Finding, line: number): FileProblem {
  const key = path.map((part) => shortened(part)).join('.');
  const place = key === '' ? `${file}:${line}` : `${file}:${line} ${key}`;
  return { file, line, key, found, allowed, text: `${place}: ${sentence}` };
}

/** At most 60 printable characters. */
export function shortened(text: string): string {
  const printable = text.replace(/[\p{C}\p{Zl}\p{Zp}]/gu, '?');
  return printable.length > 60 ? `${printable.slice(0, 57)}...` : printable;
}

/** What stands in a file, as a message shows it. */
export function shown(value: unknown): string {
  if (typeof value === 'string') return `"${shortened(value)}"`;
  if (value === null || value === undefined) return 'nothing';
  if (Array.isArray(value)) return 'a list';
  return typeof value === 'number' || typeof value === 'boolean' ? String(value) : 'a group of keys';
}
