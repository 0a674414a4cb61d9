import { describe, expect, it } from 'vitest';
import { failingSession, type Ended, type Table } from './failing-session.js';

const LONGEST_MS = 120_000;
const SEALED = /\n\{"kind":"end".*\}\n\{"kind":"seal".*\}\n$/;

/** An instrument that is not there, so that there is something to call somebody for. */
const bench = (link: string): string => `bench: table
instruments:
  rails:
    driver: text-lines
    link: { ${link} }
    options: { pattern: 'LOGIC {logic.volts} V', interval_ms: 100 }
`;
const NOBODY = bench("tcp: '127.0.0.1:1'");
const siren: Table = {
  bench: `${NOBODY}hooks:\n  - { priority: low, run: [siren, --loud] }\n`,
  args: ['--trust-hooks'],
};

/** It went on until it was ended, and everything is in its recording. */
function expectWatchedOn(ended: Ended): void {
  expect(ended.said).toMatch(/Session closed\. Recording: /);
  expect(ended.said).not.toMatch(/^ +at |Warning/m);
  expect(ended.code).toBe(0);
  expect(ended.recordings).toEqual([expect.stringMatching(SEALED)]);
}

describe('a hook whose program the system does not start', { timeout: LONGEST_MS }, () => {
  it.each([
    ['ENOENT', /there is no program siren; check its path/],
    ['EACCES', /siren may not be run; make it executable/],
    ['EAGAIN', /siren could not be started: too many programs run; end some/],
    ['EMFILE', /siren could not be started: too many files are open; end other programs/],
    ['ENFILE', /siren could not be started: too many files are open; end other programs/],
    ['ENOMEM', /siren could not be started: no memory is left; end other programs/],
  ] as const)('%s: told, tried again, watched on', async (code, why) => {
    // Twice: it is tried again after five seconds.
    const twice = /hook run siren came to nothing[^]*hook run siren came to nothing/;
    const ended = await failingSession({ call: 'spawn', path: 'siren', code }, twice, siren);
    expect(ended.said).toMatch(why);
    expect(ended.said).toMatch(/ALARM .*The hook run siren came to nothing, so it called nobody/);
    expectWatchedOn(ended);
  });
});

describe('a thread that the system does not give', { timeout: LONGEST_MS }, () => {
  it('told, watched on', async () => {
    const told = /ALARM .*What is expected is no longer worked out anew: it can't be started .*end other/;
    const code = 'ERR_WORKER_INIT_FAILED';
    const ended = await failingSession({ call: 'thread', path: 'band-worker', code }, told);
    expect(ended.said).toMatch(told);
    expectWatchedOn(ended);
  });
});

describe('a USB instrument whose process the system does not start', { timeout: LONGEST_MS }, () => {
  it.each(['EAGAIN', 'EMFILE', 'ENOMEM'] as const)('%s: told, watched on', async (code) => {
    const usb = {
      bench: bench('usbtmc: /dev/usbtmc7')
        .replace(/driver:.*\n/, 'driver: scpi-meter\n')
        .replace(/ {4}options.*\n/, '    channels: { logic.volts: { measures: dc-volts } }\n'),
    };
    const told = /rails is not there: \/dev\/usbtmc7 can't be read, for .* no process .*; end other programs/;
    const ended = await failingSession({ call: 'spawn', path: 'usbtmc-child', code }, told, usb);
    expect(ended.said).toMatch(told);
    expectWatchedOn(ended);
  });
});
