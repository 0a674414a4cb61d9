import type { StartSuspectThread } from '../../../daemon/suspects/suspect-thread.js';
import { suspectClouds } from '../../../daemon/watch/suspects/clouds.js';
import { judge } from '../../../daemon/watch/suspects/judge.js';
import { beginSuspects, type SuspectModel } from '../../../daemon/watch/suspects/model.js';

const models = new Map<string, SuspectModel>();

/** Weighs in the caller's thread, so that a session whose clock is moved by hand always hears at the same time. */
export const suspectsAtOnce: StartSuspectThread = ({ design, load, seed }, { onJudged }) => {
  const key = JSON.stringify([design, load, seed]);
  const model = models.get(key) ?? beginSuspects([...suspectClouds(design, { load, seed })]);
  models.set(key, model);
  return {
    weigh: (settled) => onJudged(judge(model, settled)),
    stop: () => undefined,
  };
};
