import { CUT_OFF_CAUTION } from '../watch/cut-off-words.js';
import { orderProblem } from '../watch/cut-off-order.js';
import type { CutOffOrder } from '../watch/events.js';
import type { CutOffState } from '../watch/state.js';
import { ENTER, type Hands, type Prompt } from './prompt.js';

interface OrderKey {
  readonly key: string;
  readonly order: CutOffOrder;
  readonly words: string;
}

const ORDERS: readonly OrderKey[] = [
  { key: 'o', order: 'off', words: 'power off now' },
  { key: 'p', order: 'on', words: 'power on' },
  { key: 'a', order: 'arm', words: 'arm' },
  { key: 't', order: 'test', words: 'test' },
  { key: 'd', order: 'disarm', words: 'disarm' },
];

/** What each order does that isn't given by its key alone. */
const MEANS: Readonly<Record<Exclude<CutOffOrder, 'off'>, string>> = {
  arm: 'from then on its alarms take power away.',
  on: 'lets power through: the supply is live at once.',
  test: 'takes power away now, and looks whether the rails fall.',
  disarm: 'from then on no alarm takes power away.',
};

/** What somebody types who has the supply in sight: nobody does so by a slip. */
const IN_SIGHT = 'in sight';

const POSITIONS: Readonly<Record<CutOffState['position'], string>> = {
  on: 'power is on',
  off: 'power is off',
  unknown: 'whether power is on is not known',
};
const STANDINGS: Readonly<Record<CutOffState['state'], string>> = {
  armed: 'armed',
  disarmed: 'not armed: no alarm drops it',
  dropped: 'dropped; it stays so until it is armed again',
};

/** Asks what is to be done with an output that takes power away. */
export function cutOffPrompt(hands: Hands, at = 0): Prompt | null {
  const { cutOffs } = hands.state;
  const output = cutOffs[at]?.output;
  if (output === undefined) {
    hands.say(
      'This bench has no output that may be switched; an output with armed: true in its file may be.',
    );
    return null;
  }
  const now = (): CutOffState | undefined => hands.state.cutOffs[at];
  const prompt: Prompt = {
    wantsWords: false,
    lines() {
      const cutOff = now();
      const keys = ORDERS.filter(({ order }) => cutOff !== undefined && isOffered(hands, cutOff, order));
      const others = cutOffs.length > 1 ? 'n: another   ' : '';
      return [
        cutOff === undefined
          ? output
          : `${output}: ${STANDINGS[cutOff.state]}; ${POSITIONS[cutOff.position]}.`,
        `${keys.map(({ key, words }) => `${key}: ${words}   `).join('')}${others}Esc: leave it`,
      ];
    },
    answer(key) {
      if (key === 'n') return cutOffPrompt(hands, (at + 1) % cutOffs.length);
      const order = ORDERS.find((one) => one.key === key)?.order;
      if (order === undefined) return prompt;
      const why = orderProblem(hands.state, { output, order, inSight: true });
      if (why !== null) {
        hands.say(`Not done: ${why}`);
        return prompt;
      }
      return confirmation(hands, output, order);
    },
  };
  return prompt;
}

function isOffered(hands: Hands, { output, position }: CutOffState, order: CutOffOrder): boolean {
  return order !== position && orderProblem(hands.state, { output, order, inSight: true }) === null;
}

/** To take power away wants no second key: that is the way that harms nobody. */
function confirmation(hands: Hands, output: string, order: CutOffOrder): Prompt | null {
  if (order === 'off') {
    hands.act({ kind: 'cut-off', output, order, inSight: false });
    return null;
  }
  return order === 'disarm' ? disarmPrompt(hands, output) : sightPrompt(hands, output, order);
}

function disarmPrompt(hands: Hands, output: string): Prompt {
  const prompt: Prompt = {
    wantsWords: false,
    lines: () => [`Disarm ${output}: ${MEANS.disarm}`, 'Enter: disarm   Esc: leave it'],
    answer(key) {
      if (key !== ENTER) return prompt;
      hands.act({ kind: 'cut-off', output, order: 'disarm', inSight: false });
      return null;
    },
  };
  return prompt;
}

function sightPrompt(hands: Hands, output: string, order: 'arm' | 'test' | 'on'): Prompt {
  return {
    wantsWords: true,
    lines: () => [
      `${output}, ${ORDERS.find((one) => one.order === order)?.words}: ${MEANS[order]}`,
      CUT_OFF_CAUTION,
      `Type "${IN_SIGHT}" if you see it and reach its switch, then Enter: `,
    ],
    answer(words) {
      if (words.trim().toLowerCase() !== IN_SIGHT)
        hands.say(`Not done: only "${IN_SIGHT}", by somebody who sees the supply, does it.`);
      else hands.act({ kind: 'cut-off', output, order, inSight: true });
      return null;
    },
  };
}
