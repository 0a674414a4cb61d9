import type {
  CompareView,
  JobListView,
  MomentView,
  OutcomeView,
  RecordingView,
} from '../../daemon/serve/job-views.js';
import type { Span } from './span.js';

/** Why something about a recording couldn't be had, in a sentence for a person. */
export class NotAnswered extends Error {
  override readonly name = 'NotAnswered';
}

export function askList(signal?: AbortSignal): Promise<JobListView> {
  return ask('list', {}, signal);
}

export function askOutcome(recording: string, signal?: AbortSignal): Promise<OutcomeView> {
  return ask('outcome', { recording }, signal);
}

/** @param span null: the whole session */
export function askOverview(
  recording: string,
  span: Span | null,
  most: number,
  signal?: AbortSignal,
): Promise<RecordingView> {
  const stretch = span === null ? {} : { from: String(span.fromMs), to: String(span.toMs) };
  return ask('overview', { recording, ...stretch, most: String(most) }, signal);
}

export function askMoment(recording: string, atMs: number, signal?: AbortSignal): Promise<MomentView> {
  return ask('state', { recording, at: String(Math.round(atMs)) }, signal);
}

export function askComparison(before: string, after: string, signal?: AbortSignal): Promise<CompareView> {
  return ask('compare', { before, after }, signal);
}

/** The address of the report, or of a table to take along. */
export function jobAddress(what: 'report' | 'csv', query: Readonly<Record<string, string>>): string {
  return `job/${what}?${new URLSearchParams(query).toString()}`;
}

async function ask<View>(
  what: string,
  query: Readonly<Record<string, string>>,
  signal: AbortSignal | undefined,
): Promise<View> {
  let response: Response;
  try {
    response = await fetch(`job/${what}?${new URLSearchParams(query).toString()}`, signal ? { signal } : {});
  } catch (error) {
    if (signal?.aborted === true) throw error;
    throw new NotAnswered(
      'Railminder does not answer. Is it still running on the computer with the instruments?',
    );
  }
  if (!response.ok) throw new NotAnswered((await response.text()).trim());
  return (await response.json()) as View;
}

/** The sentence of whatever went wrong. */
export function troubleWords(error: unknown): string {
  return error instanceof NotAnswered ? error.message : 'What came back could not be understood. Try again.';
}
