import type { ScopeCommand, ScopeState } from './scpi-scope-device.js';
import type { InputSettings } from './scpi-scope-sampling.js';

export const MOST_SCOPE_POINTS = 1_000_000;

/** Changes how an input is set; one that isn't there is left alone. */
export function setInput(state: ScopeState, input: number, change: Partial<InputSettings>): void {
  const settings = state.inputs.get(input);
  if (settings !== undefined) Object.assign(settings, change);
}

/** A command that takes one number within limits. */
export function takesNumber(
  header: string,
  low: number,
  high: number,
  take: (value: number, input: number) => void,
): ScopeCommand {
  return {
    header,
    isQuery: false,
    run(input, [text]) {
      const value = Number(text);
      if (text === undefined || text === '') return -109;
      if (!Number.isFinite(value)) return -104;
      if (value < low || value > high) return -222;
      return take(value, input);
    },
  };
}

/** A command that takes one of some words. */
export function takesWord(
  header: string,
  words: Readonly<Record<string, (input: number) => void>>,
): ScopeCommand {
  return {
    header,
    isQuery: false,
    run(input, parameters) {
      const word = parameters.join(',').toUpperCase();
      if (word === '') return -109;
      return Object.hasOwn(words, word) ? words[word]?.(input) : -224;
    },
  };
}

/** A question about one input. */
export function asksInput(
  state: ScopeState,
  header: string,
  answer: (settings: InputSettings, input: number) => string,
): ScopeCommand {
  return {
    header,
    isQuery: true,
    run(input) {
      const settings = state.inputs.get(input);
      return settings === undefined ? -114 : answer(settings, input);
    },
  };
}
