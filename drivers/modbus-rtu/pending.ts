import { fits, READ_COILS, READ_DISCRETE_INPUTS, type AnswerFrame, type ReadRequest } from './frames.js';

/** A question whose answer may still come. */
export interface Pending {
  readonly request: ReadRequest;
  readonly askedAtMs: number;
}

/** An answer that is later than this is taken to be lost. */
const LATEST_MS = 30_000;
/** Amounts of coils that are told apart by the length of the answer, within the 2000 that the standard allows. */
const MOST_TOKENS = 200;

/**
 * What may still come after these answers of one unit. A device answers in order and each question once at most, so
 * an answer settles the first question that it can belong to and all before it; later ones may still be answered.
 */
export function afterAnswers(
  pending: readonly Pending[],
  frames: readonly AnswerFrame[],
): readonly Pending[] {
  let left = pending;
  for (const frame of frames) left = left.slice(left.findIndex(({ request }) => fits(frame, request)) + 1);
  return left;
}

/** Without those that are too old to be answered. */
export function notTooOld(pending: readonly Pending[], nowMs: number): readonly Pending[] {
  return pending.filter(({ askedAtMs }) => nowMs - askedAtMs <= LATEST_MS);
}

export function isMarker({ functionCode }: { readonly functionCode: number }): boolean {
  return functionCode === READ_COILS || functionCode === READ_DISCRETE_INPUTS;
}

/** Whether an answer may come that could be taken for that of the next question for registers. */
export function hasRegisters(pending: readonly Pending[]): boolean {
  return pending.some(({ request }) => !isMarker(request));
}

/**
 * The marker to ask in the `turn`-th try (from 0): one whose answer can't be taken for that of a marker asked before
 * the last question for registers. A function that isn't pending there will do whatever is answered; a token, an
 * amount that no other marker has, will do if data is answered.
 */
export function markerFor(
  unit: number,
  pending: readonly Pending[],
  turn: number,
  serial: number,
): ReadRequest {
  const lastRegisters = pending.findLastIndex(({ request }) => !isMarker(request));
  const before = pending.slice(0, lastRegisters + 1).map(({ request }) => request.functionCode);
  const functions = [READ_COILS, READ_DISCRETE_INPUTS];
  const choices = [
    ...functions
      .filter((functionCode) => !before.includes(functionCode))
      .map((functionCode) => ({ functionCode, count: 1 })),
    ...functions.map((functionCode) => ({ functionCode, count: 8 * (2 + (serial % MOST_TOKENS)) })),
  ];
  const { functionCode, count } = choices[turn % choices.length] ?? { functionCode: READ_COILS, count: 1 };
  return { unit, functionCode, address: 0, count };
}
