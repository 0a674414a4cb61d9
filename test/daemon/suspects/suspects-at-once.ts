import type { StartSuspectThread } from '../../../daemon/suspects/suspect-thread.js';
import { SuspectWeigher } from '../../../daemon/suspects/weigher.js';

const weighers = new Map<string, SuspectWeigher>();

/** Weighs in the caller's thread, so that a session whose clock is moved by hand always hears at the same time. */
export const suspectsAtOnce: StartSuspectThread = (task, { onJudged }) => {
  const key = JSON.stringify(task);
  const weigher = weighers.get(key) ?? new SuspectWeigher(task);
  weighers.set(key, weigher);
  return {
    weigh: (question) => onJudged(weigher.judge(question)),
    stop: () => undefined,
  };
};
