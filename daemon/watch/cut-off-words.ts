import type { CutOffEffect } from './effects.js';

/** What stands wherever a cut-off is shown. */
export const CUT_OFF_CAUTION =
  "A cut-off doesn't replace a fuse, a lamp limiter or a person: a contact can weld, a cable can fall out, a program can stop.";

/**
 * One sentence on what happened to a cut-off.
 * @param spoken what the alarm that dropped it says, short; null where none did
 */
export function cutOffWords({ output, change, why }: CutOffEffect, spoken: string | null): string {
  const because = spoken === null ? '' : ` by the alarm "${spoken}"`;
  switch (change) {
    case 'armed':
      return `The cut-off ${output} is armed, by somebody who has the supply in sight.`;
    case 'disarmed':
      return `The cut-off ${output} is disarmed: no alarm drops it.`;
    case 'dropped':
      return `The cut-off ${output} was dropped${because}. It stays so until it is armed again.`;
    case 'test':
      return `The cut-off ${output} is being tested: power is taken away.`;
    case 'switch-on':
      return `Somebody lets power through ${output}.`;
    case 'switch-off':
      return `Somebody takes power away by ${output}.`;
    case 'is-on':
      return `${output} says that power is on.`;
    case 'is-off':
      return `${output} says that power is off.`;
    case 'failed':
      return `${output} did not do as it was told: ${why}.`;
    case 'fell':
      return `Power was seen to fall after ${output} took it away.`;
    case 'not-seen-falling':
      return why === ''
        ? `Whether power fell after ${output} took it away is not known: nothing live was measured.`
        : `Power was not seen to fall: ${why}.`;
    case 'refused':
      return `Not done: ${why}`;
  }
}
