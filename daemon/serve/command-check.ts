import { refusalWords } from '../watch/procedure/words.js';
import { longestShelvedMs } from '../watch/shelving.js';
import type { WatchState } from '../watch/state.js';
import type { DemoView, PageMessage } from './messages.js';

/** What a page may ask the daemon to do. */
export type PageCommand = Exclude<PageMessage, { kind: 'snapshot' }>;

/** Why a command makes no sense in this state, for a person; null when it does. */
export function whyNot(command: PageCommand, state: WatchState, demo: DemoView | null): string | null {
  switch (command.kind) {
    case 'acknowledge':
      return state.alarms.some(({ id }) => id === command.alarm)
        ? null
        : `There is no alarm ${command.alarm} any more; nothing to acknowledge.`;
    case 'shelve':
      return whyNotShelved(command, state);
    // The session answers for a cut-off, so that the recording holds what was refused.
    case 'cut-off':
    case 'note':
    case 'load':
      return null;
    case 'probe':
      return whyNoProbe(command, state);
    case 'typed':
      return whyNotTyped(command, state);
    case 'step':
      // Whoever reads the answer knows the rest.
      return state.procedure === null
        ? refusalWords({ kind: 'no-procedure' }, { ...state.plan, procedure: undefined, alarms: [] })
        : null;
    case 'demo-fault':
      return whyNoFault(command.fault, demo);
  }
}

function whyNotShelved(
  { alarm: id, minutes }: Extract<PageCommand, { kind: 'shelve' }>,
  { alarms }: WatchState,
): string | null {
  const alarm = alarms.find((one) => one.id === id);
  if (alarm === undefined) return `There is no alarm ${id} any more; nothing to put aside.`;
  const most = longestShelvedMs(alarm) / 60_000;
  return minutes === null || minutes <= most
    ? null
    : `${id} can be put aside for ${most} minutes at most; choose fewer than ${minutes}.`;
}

function whyNoProbe(
  { instrument, channel, point }: Extract<PageCommand, { kind: 'probe' }>,
  { plan }: WatchState,
): string | null {
  const known = plan.channels.some((one) => one.instrument === instrument && one.channel === channel);
  if (!known) {
    const names = plan.channels.map((one) => `${one.instrument} ${one.channel}`).join(', ');
    return `The bench has no channel ${instrument} ${channel}; it has ${names}.`;
  }
  const points = plan.prediction.points;
  if (point === null || Object.hasOwn(points, point)) return null;
  return `The design has no test point ${point}; it has ${Object.keys(points).join(', ')}.`;
}

function whyNotTyped(
  { instrument, channel }: Extract<PageCommand, { kind: 'typed' }>,
  { plan }: WatchState,
): string | null {
  const typed = plan.channels.filter((one) => one.typed === true);
  if (typed.some((one) => one.instrument === instrument && one.channel === channel)) return null;
  const names = typed.map((one) => `${one.instrument} ${one.channel}`).join(', ');
  return `Nothing is typed for ${instrument} ${channel}; readings are typed for ${names || 'no channel of this bench'}.`;
}

function whyNoFault(fault: string, demo: DemoView | null): string | null {
  if (demo === null) return 'Faults can be switched in on the simulated bench only; this one is real.';
  if (demo.faults.some(({ name }) => name === fault)) return null;
  return `The simulated bench has no fault ${fault}; it has ${demo.faults.map(({ name }) => name).join(', ')}.`;
}
