import { withUnitsInWords } from './spoken.js';

/** What matters more cuts off what matters less: a reading, a step of the walk, what is wrong with it, an alarm, a grave one. */
export type Weight = 0 | 1 | 2 | 3 | 4;

interface Sentence {
  readonly words: string;
  readonly weight: Weight;
  readonly holds: () => boolean;
}

let waiting: readonly Sentence[] = [];
let now: Sentence | undefined;
let utterance: SpeechSynthesisUtterance | undefined;

/** Whether this browser has a voice. It may come a moment after the page. */
export function hasVoice(): boolean {
  return (window.speechSynthesis?.getVoices().length ?? 0) > 0;
}

/**
 * Says something once what matters as much has been said, if it still `holds` by then. What it cuts off is said again
 * afterwards. False without a voice.
 */
export function say(words: string, weight: Weight = 0, holds: () => boolean = () => true): boolean {
  if (!hasVoice()) return false;
  const { speechSynthesis } = window;
  const isFree = now === undefined || !(speechSynthesis.speaking || speechSynthesis.pending);
  const cutsOff = !isFree && now !== undefined && weight > now.weight;
  waiting = [...(cutsOff && now ? [now] : []), ...waiting, { words, weight, holds }];
  if (cutsOff) speechSynthesis.cancel();
  if (isFree || cutsOff) next();
  return true;
}

/** The browser gets one sentence at a time, so that it never says what has become old. */
function next(): void {
  [now, ...waiting] = waiting.filter(({ holds }) => holds()).toSorted((a, b) => b.weight - a.weight);
  if (now === undefined) return;
  const spoken = new SpeechSynthesisUtterance(withUnitsInWords(now.words));
  // A reference keeps the utterance, and with it its end, from being collected.
  utterance = spoken;
  spoken.onend = spoken.onerror = () => {
    if (utterance === spoken) next();
  };
  window.speechSynthesis.speak(spoken);
}
