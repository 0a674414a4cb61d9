/** What may be asked about the recordings of a job. */
export type JobAsk =
  | { readonly kind: 'list' }
  | { readonly kind: 'outcome'; readonly recording: string }
  | {
      readonly kind: 'overview';
      readonly recording: string;
      readonly fromMs: number;
      /** Null: to the end. */
      readonly toMs: number | null;
      /** At most so many stretches of time a curve. */
      readonly most: number;
    }
  | { readonly kind: 'state'; readonly recording: string; readonly atMs: number }
  | { readonly kind: 'compare'; readonly before: string; readonly after: string }
  | { readonly kind: 'report'; readonly recording: string }
  | { readonly kind: 'csv'; readonly recording: string; readonly form: CsvForm };

export const CSV_FORMS = ['columns', 'readings', 'captures', 'extremes'] as const;
export type CsvForm = (typeof CSV_FORMS)[number];

/** What comes back: the body in pieces, or why there is none. */
export type JobAnswer =
  | {
      readonly ok: true;
      readonly chunks: AsyncIterable<string>;
      /** Of a page: the SHA-256 of its style sheet in base64, so that nothing else is let in. */
      readonly styleSha256?: string;
    }
  | { readonly ok: false; readonly status: 404 | 422 | 503; readonly why: string };

/** Whoever reads recordings for the page. */
export interface JobSource {
  /** Rejects never. A body whose source breaks in the middle rejects while it is read. */
  answer(ask: JobAsk, signal: AbortSignal): Promise<JobAnswer>;
}

export const JOB_PATH = '/job/';
/** Twice as many as the widest screen has columns. */
const MOST_STRETCHES = 4000;
const USUAL_STRETCHES = 600;
/** A month. */
const LONGEST_MS = 31 * 86_400_000;
/**
 * Letters, digits and a few signs, no path in it, not hidden. Whether the file is really in the folder is looked at
 * besides.
 */
const RECORDING_NAME = /^[\p{L}\p{N}][\p{L}\p{M}\p{N} ._()+-]{0,150}\.ndjson(?:\.gz)?$/u;

/** Whether a file of this name may be asked for. */
export function isRecordingName(name: string): boolean {
  return RECORDING_NAME.test(name);
}

/** A request that can't be understood. */
export class BadAsk extends Error {
  override readonly name = 'BadAsk';
}

/**
 * What a request wants; null when its path names nothing.
 * @param path `/job/overview`
 * @param query without its `?`
 * @throws {BadAsk} when its query is wrong; the message is for a person.
 */
export function readAsk(path: string, query: string): JobAsk | null {
  const found = new URLSearchParams(query);
  const recording = (): string => nameIn(found, 'recording');
  switch (path.slice(JOB_PATH.length)) {
    case 'list':
      return { kind: 'list' };
    case 'outcome':
      return { kind: 'outcome', recording: recording() };
    case 'overview':
      return overviewAsk(recording(), found);
    case 'state':
      return { kind: 'state', recording: recording(), atMs: numberIn(found, 'at', 0, LONGEST_MS) };
    case 'compare':
      return { kind: 'compare', before: nameIn(found, 'before'), after: nameIn(found, 'after') };
    case 'report':
      return { kind: 'report', recording: recording() };
    case 'csv':
      return { kind: 'csv', recording: recording(), form: formIn(found) };
    default:
      return null;
  }
}

function overviewAsk(recording: string, found: URLSearchParams): JobAsk {
  const fromMs = found.has('from') ? numberIn(found, 'from', 0, LONGEST_MS) : 0;
  const toMs = found.has('to') ? numberIn(found, 'to', 0, LONGEST_MS) : null;
  const most = found.has('most') ? numberIn(found, 'most', 1, MOST_STRETCHES) : USUAL_STRETCHES;
  if (toMs !== null && toMs <= fromMs) throw new BadAsk('to: the stretch ends before it begins.');
  return { kind: 'overview', recording, fromMs, toMs, most };
}

function onlyOne(found: URLSearchParams, key: string): string {
  const [value, ...more] = found.getAll(key);
  if (value === undefined || more.length > 0) throw new BadAsk(`${key}: give it once.`);
  return value;
}

function nameIn(found: URLSearchParams, key: string): string {
  const name = onlyOne(found, key);
  if (isRecordingName(name)) return name;
  throw new BadAsk(`${key}: give the name of a recording in the job's folder, *.ndjson or *.ndjson.gz.`);
}

function numberIn(found: URLSearchParams, key: string, least: number, most: number): number {
  const text = onlyOne(found, key);
  const value = /^\d{1,12}$/.test(text) ? Number(text) : NaN;
  if (value >= least && value <= most) return value;
  throw new BadAsk(`${key}: give a whole number from ${least} to ${most}.`);
}

function formIn(found: URLSearchParams): CsvForm {
  const text = onlyOne(found, 'form');
  const form = CSV_FORMS.find((one) => one === text);
  if (form !== undefined) return form;
  throw new BadAsk(`form: ${CSV_FORMS.join(', ')} are there.`);
}
