import { expect, it } from 'vitest';
import { startFakeDaemon, type FakeDaemon } from './fake-daemon.js';
import { pageTests } from './page-tests.js';
import { calm, NOW_MS, withPoints } from './signal-cabin.js';

const DEAD = { value: 0.01, verdict: 'outside' } as const;
const OFF = withPoints(calm(), {
  'reservoir.volts': DEAD,
  'lamps.volts': DEAD,
  'logic.volts': DEAD,
  'lamps.case': { value: 21.8 },
  'logic.case': { value: 22.1 },
});

let daemon: FakeDaemon;
const { open } = pageTests(async (page) => (daemon = await startFakeDaemon(page, OFF)));

it('a supply that is switched off has nothing outside and nothing that warms up, until it is on', async () => {
  const page = await open();
  const supply = page.locator('rm-supply');
  await page.getByText('It looks switched off where it is measured').waitFor();
  await supply.getByText('waiting').first().waitFor();
  expect(await supply.getByText('outside').count()).toBe(0);
  expect(await supply.getByText('warming up').count()).toBe(0);
  // Half the mains: too little, and on.
  daemon.sendChanges({ readings: [['reservoir.volts', NOW_MS + 1000, 9.4]] });
  await page.getByText('Reservoir is outside: 9.40 V').waitFor();
  await supply.getByText('warming up').first().waitFor();
  // Lamps and logic are dead behind it.
  expect(await supply.locator('.block', { hasText: 'Logic rail' }).getByText('outside').count()).toBe(2);
});
