import { LOAD_STATES } from '../design/design.js';
import type { Hands, Prompt } from './prompt.js';

/** Asks how much the rails draw from now on; the first letter says it. */
export function loadPrompt(hands: Hands): Prompt {
  const prompt: Prompt = {
    wantsWords: false,
    lines() {
      const { state, recognised } = hands.state.load;
      const seen = recognised === null ? '' : ` The readings speak for ${recognised}.`;
      const keys = LOAD_STATES.map((load) => `${load.slice(0, 1)}: ${load}   `).join('');
      return [`Judged for ${state} load.${seen} What do the rails draw?`, `${keys}Esc: leave it`];
    },
    answer(key) {
      const load = LOAD_STATES.find((one) => one.startsWith(key));
      if (load === undefined) return prompt;
      hands.act({ kind: 'load', load });
      hands.say(`From now on the readings are judged for ${load} load.`);
      return null;
    },
  };
  return prompt;
}
