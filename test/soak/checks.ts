import { heapGrowth } from './memory.js';
import type { SoakResult } from './soak.js';

/** Of the last hour's heap over the tenth's. */
const MOST_GROWTH = 0.05;

export interface Check {
  readonly name: string;
  readonly isMet: boolean;
  readonly detail: string;
}

/** What a soak must show. */
export function checksOf(result: SoakResult): readonly Check[] {
  const { faults, live, recording, pages, alarmsUntold } = result;
  const missed = [...faults.values()].flatMap((count) => count.missed);
  const done = [...faults.values()].reduce((sum, count) => sum + count.done, 0);
  const isSame = live.readings === recording.tally.readings && live.events === recording.tally.events;
  return [
    memoryCheck(result),
    check('no handle is left', result.handlesLeft),
    check('no timer is left', result.timersLeft === 0 ? [] : [`${result.timersLeft} wait`]),
    check('every fault was seen and told', missed, `${done} faults`),
    {
      name: 'every alarm is in the recording',
      isMet: result.sameAlarms && live.raised > 0,
      detail: `${live.raised} raised, ${recording.tally.raised} recorded`,
    },
    {
      name: 'every reading and event is in the recording',
      isMet: isSame && recording.lost === 0 && recording.problems.length === 0,
      detail: `${live.readings} readings, ${recording.tally.readings} recorded, ${recording.lost} lost in ${recording.files} files${recording.problems.map((why) => `; ${why}`).join('')}`,
    },
    check('every alarm was told to the page', alarmsUntold),
    check('no page missed a message', pages.gaps === 0 ? [] : [`${pages.gaps} gaps`]),
  ];
}

function check(name: string, complaints: readonly string[], fine = 'none'): Check {
  return { name, isMet: complaints.length === 0, detail: complaints.join('; ') || fine };
}

function memoryCheck({ memory }: SoakResult): Check {
  const growth = heapGrowth(memory);
  const words = growth === null ? 'told after eleven hours only' : `${(100 * growth).toFixed(1)} %`;
  return { name: 'memory is flat', isMet: growth === null || growth <= MOST_GROWTH, detail: words };
}
