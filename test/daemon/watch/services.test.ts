import { expect, it } from 'vitest';
import { SERVICES, type Service } from '../../../daemon/watch/events.js';
import { alarmWords } from '../../../daemon/watch/words.js';
import { acknowledge, poweredCabin, PREDICTION, tick } from './cabin.js';

const told = (atMs: number, service: Service, why: string | null, name = '') =>
  ({ kind: 'service', atMs, service, name, working: why === null, why: why ?? '' }) as const;

it.each([
  ['page', 'medium'],
  ['terminal', 'medium'],
  ['bands', 'low'],
  ['suspects', 'low'],
  ['recordings', 'low'],
] as const)('%s that has stopped is an alarm until it works again', (service, priority) => {
  const watched = poweredCabin().feed(told(1000, service, 'out of memory'));
  expect(watched.alarm(`service-down:${service}`)).toMatchObject({ active: true, priority });
  watched.feed(tick(1250), told(2000, service, null));
  expect(watched.told(`service-down:${service}`).at(-1)).toEqual([2000, 'returned']);
  watched.feed(acknowledge(2100, `service-down:${service}`));
  expect(watched.alarm(`service-down:${service}`)).toBeUndefined();
  expect(watched.state.services).toEqual([]);
});

it('each hook has an alarm of its own', () => {
  const watched = poweredCabin().feed(
    told(1000, 'hook', 'no', 'run siren'),
    told(1100, 'hook', 'no', 'run bell'),
  );
  watched.feed(told(1200, 'hook', null, 'run siren'));
  expect(watched.alarm('service-down:hook:run siren')?.active).toBe(false);
  expect(watched.alarm('service-down:hook:run bell')?.active).toBe(true);
});

it('one that comes and goes is one alarm, which returns by itself when the minute is over', () => {
  const watched = poweredCabin();
  for (let atMs = 1000; atMs < 30_000; atMs += 1000) {
    watched.feed(told(atMs, 'suspects', 'no'), told(atMs + 500, 'suspects', null));
  }
  expect(watched.told('service-down:suspects').filter(([, change]) => change === 'raised')).toHaveLength(2);
  watched.feed(tick(62_001));
  expect(watched.told('service-down:suspects').at(-1)).toEqual([62_001, 'returned']);
});

it.each(SERVICES)('of %s it says what has stopped, why, what goes on, and what to do', (service) => {
  const words = alarmWords(
    { kind: 'service-down', service, name: 'run siren', why: 'out of memory' },
    PREDICTION,
  );
  expect(words.sentence).toMatch(/^[A-Z].*: out of memory\. [A-Z].*\.$/);
  expect(words.spoken).not.toBe('');
  expect(words.cure).toMatch(/\.$/);
});
