import type { Draft } from './draft.js';
import { droppingAlarm } from './cut-off-cause.js';
import type { CutOffEvent } from './events.js';
import { isConnected } from './state.js';

const NEEDS_SIGHT: readonly Order['order'][] = ['arm', 'test', 'on'];
const UNSEEN =
  'Only somebody who has the supply in sight and its switch within reach may do that; say that you have.';

/** What an order is judged by: a state, or one in the making. */
export type CutOffSurroundings = Pick<Draft, 'alarms' | 'plan' | 'cutOffs' | 'instruments'>;

/** An order without its time. */
export type Order = Pick<CutOffEvent, 'output' | 'order' | 'inSight'>;

/** Why an order makes no sense now, for a person; null when it does. */
export function orderProblem(around: CutOffSurroundings, { output, order, inSight }: Order): string | null {
  const cutOff = around.cutOffs.find((one) => one.output === output);
  if (cutOff === undefined) return unknownOutput(around, output);
  if (!inSight && NEEDS_SIGHT.includes(order)) return UNSEEN;
  const { state } = cutOff;
  switch (order) {
    case 'arm':
      return state === 'armed' ? `${output} is armed already.` : whyNotArmed(around, output);
    case 'disarm':
      if (state === 'disarmed') return `${output} is not armed.`;
      return state === 'armed'
        ? null
        : `${output} has dropped; it stays so until it is armed again, with the supply in sight.`;
    case 'test':
      return state === 'armed' ? null : `${output} is not armed; arm it before its test.`;
    case 'on':
      return state === 'dropped'
        ? `${output} has dropped; find out why and arm it again before power goes on.`
        : null;
    case 'off':
      return null;
  }
}

function whyNotArmed(around: CutOffSurroundings, output: string): string | null {
  const alarm = droppingAlarm(around, output);
  if (alarm !== undefined) {
    return `${alarm.id} stands and would drop ${output} at once; put right what is wrong before arming.`;
  }
  const device = around.instruments.find(({ name }) => name === output);
  return device !== undefined && isConnected(device)
    ? null
    : `${output} is not connected, so it could take nothing away; plug it in before arming.`;
}

function unknownOutput({ cutOffs }: CutOffSurroundings, output: string): string {
  const names = cutOffs.map((one) => one.output).join(', ');
  return names === ''
    ? `There is no output ${output}: the bench has none with armed: true.`
    : `There is no output ${output}; there is ${names}.`;
}
