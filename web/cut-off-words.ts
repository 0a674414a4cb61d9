import type { CutOffView, PageMessage } from '../daemon/serve/messages.js';

type Order = Extract<PageMessage, { kind: 'cut-off' }>['order'];

export interface CutOffButton {
  readonly order: Order;
  readonly words: string;
  /** Only for somebody who has the supply in sight. */
  readonly needsSight: boolean;
}

const POSITIONS: Readonly<Record<CutOffView['position'], string>> = {
  on: 'power is on',
  off: 'power is off',
  unknown: 'whether power is on is not known',
};

/** Where a cut-off stands, as a sentence. */
export function cutOffState({ state, position, why, isFalling }: CutOffView): string {
  const power = isFalling ? 'power is being taken away' : POSITIONS[position];
  if (state === 'armed') return `Armed; ${power}.`;
  if (state === 'disarmed') return `Not armed: no alarm drops it; ${power}.`;
  return `Dropped by ${why?.replace(/\.$/, '') ?? 'an alarm'}; ${power}. It stays so until it is armed again.`;
}

const TAKE_AWAY: CutOffButton = { order: 'off', words: 'Take power away', needsSight: false };
const LET_THROUGH: CutOffButton = { order: 'on', words: 'Let power through', needsSight: true };

/** What can be done with a cut-off as it stands. */
export function cutOffButtons({ state, position }: CutOffView): readonly CutOffButton[] {
  const power =
    position === 'on' ? [TAKE_AWAY] : position === 'off' ? [LET_THROUGH] : [TAKE_AWAY, LET_THROUGH];
  switch (state) {
    case 'disarmed':
      return [...power, { order: 'arm', words: 'Arm', needsSight: true }];
    case 'armed':
      return [
        ...power,
        { order: 'test', words: 'Test: drop it now', needsSight: true },
        { order: 'disarm', words: 'Disarm', needsSight: false },
      ];
    case 'dropped':
      return [TAKE_AWAY, { order: 'arm', words: 'Arm again', needsSight: true }];
  }
}
