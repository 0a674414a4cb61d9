import type { Priority } from './alarm.js';
import { raiseAlarm, returnAlarm } from './alarms.js';
import type { Draft } from './draft.js';
import type { Service, ServiceEvent } from './events.js';

/** Somebody relies on being called, and on what a page or the terminal shows; the rest is sharper knowledge. */
const PRIORITY: Readonly<Record<Service, Priority>> = {
  page: 'medium',
  terminal: 'medium',
  hook: 'medium',
  bands: 'low',
  suspects: 'low',
  recordings: 'low',
};

/** Something beside the watching stopped, or works again. */
export function takeService(draft: Draft, event: ServiceEvent): void {
  draft.services = [...draft.services.filter((one) => idOf(one) !== idOf(event)), event];
  settleServices(draft);
}

/** Raises or returns the alarm of each. */
export function settleServices(draft: Draft): void {
  for (const told of draft.services) settle(draft, told);
}

function settle(draft: Draft, told: ServiceEvent): void {
  const id = idOf(told);
  const alarm = draft.alarms.find((one) => one.id === id);
  if (told.working) {
    if (alarm?.active !== true || returnAlarm(draft, alarm)) forget(draft, id);
  } else if (alarm?.active !== true) {
    const { service, name, why } = told;
    raiseAlarm(draft, {
      id,
      cause: { kind: 'service-down', service, name, why },
      priority: PRIORITY[service],
      latched: false,
      suppressedBy: [],
    });
  }
}

/** What works is nothing to remember. */
function forget(draft: Draft, id: string): void {
  draft.services = draft.services.filter((one) => idOf(one) !== id);
}

function idOf({ service, name }: Pick<ServiceEvent, 'service' | 'name'>): string {
  return name === '' ? `service-down:${service}` : `service-down:${service}:${name}`;
}
