import { readFileSync } from 'node:fs';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it, onTestFinished } from 'vitest';
import { BadUse, numberArgument, readArguments, wordArgument } from '../../daemon/command-line.js';
import { timeArgument } from '../../daemon/commands/time-argument.js';
import { numberMeant } from '../../daemon/design/number-slips.js';
import { keysIn } from '../../daemon/key-file.js';
import { newFileName } from '../../daemon/new-file.js';
import { PowerupKeys } from '../../daemon/powerup-keys.js';
import { recordingFileName } from '../../daemon/record/file-name.js';
import { NotARecording } from '../../daemon/record/parse.js';
import { readHistory } from '../../daemon/record/session/history.js';
import { foreignHost, foreignOrigin, LOOPBACK_DOOR } from '../../daemon/serve/access.js';
import { BadAsk, isRecordingName, JOB_PATH, readAsk } from '../../daemon/serve/job-ask.js';
import { cookieIn, newKeys } from '../../daemon/serve/keys.js';
import { oddText } from './odd-text.js';

function thrownBy<T>(work: () => T, ...stated: readonly (new (...rest: never[]) => Error)[]): T | null {
  try {
    return work();
  } catch (error) {
    if (!stated.some((kind) => error instanceof kind)) throw error;
    return null;
  }
}

describe('what a browser asks is read or refused, never thrown at', () => {
  it('paths and queries about recordings (seed 601)', () => {
    const word = fc.constantFrom(
      'list',
      'outcome',
      'overview',
      'state',
      'compare',
      'report',
      'csv',
      '',
      'constructor',
    );
    const key = fc.constantFrom('recording', 'before', 'after', 'at', 'from', 'to', 'most', 'form');
    const value = fc.oneof(oddText, fc.constant('a.ndjson'), fc.double().map(String));
    const query = fc
      .array(fc.tuple(key, value), { maxLength: 4 })
      .map((pairs) => pairs.map(([name, text]) => `${name}=${text}`).join('&'));
    fc.assert(
      fc.property(word, query, (path, asked) => {
        const ask = thrownBy(() => readAsk(JOB_PATH + path, asked), BadAsk);
        if (ask === null || !('recording' in ask)) return;
        expect(ask.recording).not.toMatch(/[/\\\0]|^\./);
      }),
      { seed: 601, numRuns: 2000 },
    );
  });

  it('a name of a recording leads nowhere else (seed 602)', () => {
    fc.assert(
      fc.property(oddText, (text) => {
        const name = `${text}.ndjson`;
        if (isRecordingName(name)) expect(name).not.toMatch(/[/\\\0%:]|^\.|\.\.\//);
      }),
      { seed: 602, numRuns: 3000 },
    );
  });

  it('only our own names are ours, whatever Host and Origin say (seed 603)', () => {
    const port = 7421;
    const own = ['127.0.0.1', 'localhost', '[::1]'].map((name) => `${name}:${port}`);
    const near = fc.tuple(fc.constantFrom(...own), oddText).map(([name, more]) => name + more);
    fc.assert(
      fc.property(
        fc.oneof(oddText, near, fc.constantFrom(...own)),
        fc.oneof(oddText, near),
        (host, origin) => {
          const asking = { headers: { host }, socket: { localAddress: '127.0.0.1', localPort: port } };
          expect(foreignHost(asking, LOOPBACK_DOOR) === null).toBe(own.includes(host.toLowerCase()));
          const isOwn = origin.toLowerCase() === `http://${host.toLowerCase()}`;
          expect(foreignOrigin({ host, origin }, LOOPBACK_DOOR) === null).toBe(isOwn);
        },
      ),
      { seed: 603, numRuns: 2000 },
    );
  });

  it('a key is admitted and nothing else, whatever the headers say (seed 604)', () => {
    const keys = newKeys();
    const headers = fc.record({ authorization: oddText, cookie: oddText }, { requiredKeys: [] });
    fc.assert(
      fc.property(headers, oddText, (given, name) => {
        expect(keys.admitted(given, 'railminder-7421')).toBeNull();
        expect(() => cookieIn(given.cookie ?? '', name)).not.toThrow();
      }),
      { seed: 604, numRuns: 2000 },
    );
    expect(keys.admitted({ authorization: `Bearer ${keys.keyOf('act')}` }, 'x')).toBe('act');
    expect(keys.admitted({ cookie: `a=b; x=${keys.keyOf('look')}` }, 'x')).toBe('look');
  });
});

describe('what a person types is read or refused, never thrown at', () => {
  it('arguments (seed 605)', () => {
    const options = { port: { type: 'string' }, json: { type: 'boolean' } } as const;
    const argument = fc.oneof(
      oddText,
      fc.constantFrom('--port', '--port=', '--json', '--json=x', '--', '-p', '-'),
    );
    fc.assert(
      fc.property(fc.array(argument, { maxLength: 5 }), (args) => {
        thrownBy(() => readArguments(args, 'railminder x', options, { atLeast: 0, atMost: 1 }), BadUse);
        for (const text of args) {
          const number = thrownBy(() => numberArgument('port', text, { low: 0, high: 65_535 }), BadUse);
          expect(number === null || (number >= 0 && number <= 65_535)).toBe(true);
          const word = thrownBy(() => wordArgument('load', text, ['idle', 'full']), BadUse);
          expect(word === null || word === text).toBe(true);
          const timeMs = thrownBy(() => timeArgument('from', text), BadUse);
          expect(timeMs === null || timeMs >= 0).toBe(true);
        }
      }),
      { seed: 605, numRuns: 1500 },
    );
  });

  it('a time reads back (seed 606)', () => {
    fc.assert(
      fc.property(fc.nat(99), fc.nat(59), fc.nat(59), (hours, minutes, seconds) => {
        const two = (part: number) => String(part).padStart(2, '0');
        const written = `${hours}:${two(minutes)}:${two(seconds)}`;
        expect(timeArgument('from', written)).toBe(((hours * 60 + minutes) * 60 + seconds) * 1000);
      }),
      { seed: 606, numRuns: 300 },
    );
  });

  it('a number in a file with its unit (seed 607)', () => {
    fc.assert(
      fc.property(oddText, fc.constantFrom('capacity_uF', 'r2'), (written, key) => {
        const meant = numberMeant(written, key);
        expect(meant === null || Number.isFinite(meant)).toBe(true);
      }),
      { seed: 607, numRuns: 2000 },
    );
  });

  it('keys at a power-up (seed 608)', () => {
    fc.assert(
      fc.property(fc.array(oddText, { maxLength: 5 }), fc.boolean(), (chunks, whole) => {
        const keys = new PowerupKeys(
          () => ({ name: false, yesNo: true }),
          () => undefined,
        );
        for (const chunk of chunks) {
          if (whole) keys.line(chunk);
          else keys.push(chunk);
        }
      }),
      { seed: 608, numRuns: 500 },
    );
  });

  it('a name makes a file name without a path in it (seed 609)', () => {
    fc.assert(
      fc.property(oddText, (name) => {
        expect(newFileName(name, 'design')).toMatch(/^[a-z0-9][a-z0-9-]*\.design\.yaml$/);
        expect(recordingFileName('2024-05-01T18:00:00+01:00', name, 1)).toMatch(
          /^[0-9-]+-[a-z0-9][a-z0-9-]*\.ndjson$/,
        );
      }),
      { seed: 609, numRuns: 1000 },
    );
  });

  it('a key file (seed 610)', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'railminder-keys-'));
    onTestFinished(() => rm(folder, { recursive: true, force: true }));
    const file = join(folder, 'keys');
    const first = keysIn(file);
    expect(keysIn(file).keyOf('act')).toBe(first.keyOf('act'));
    const key = first.keyOf('act');
    const text = fc.oneof(
      oddText,
      oddText.map((more) => `act ${key}\nlook ${more}\n`),
      fc.constant(`act ${key}\nlook ${key}\n`),
    );
    await fc.assert(
      fc.asyncProperty(text, async (written) => {
        await writeFile(file, written, { mode: 0o600 });
        expect(() => keysIn(file)).toThrow(BadUse);
      }),
      { seed: 610, numRuns: 200 },
    );
  });
});

describe('a recording in which something stands otherwise', () => {
  const SAMPLE = readFileSync(
    new URL('../../recordings/regulator-passes-input.ndjson', import.meta.url),
    'utf8',
  );
  const LINES = SAMPLE.split('\n').slice(0, 80);

  /** The text with one value of one line replaced, at any depth. */
  function withOther(at: number, steps: readonly number[], other: unknown): string {
    const lines = [...LINES];
    const place = at % lines.length;
    const line: unknown = JSON.parse(lines[place] ?? '');
    lines[place] = JSON.stringify(replaced(line, steps, other));
    return lines.join('\n');
  }

  function replaced(value: unknown, [step, ...rest]: readonly number[], other: unknown): unknown {
    if (step === undefined || typeof value !== 'object' || value === null) return other;
    const keys = Object.keys(value);
    if (keys.length === 0) return other;
    const key = keys[step % keys.length] ?? '';
    const inner = replaced((value as Record<string, unknown>)[key], rest, other);
    if (Array.isArray(value))
      return value.map((one: unknown, index) => (String(index) === key ? inner : one));
    return { ...value, [key]: inner };
  }

  it('is read and judged again, or is refused as no recording (seed 611)', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'railminder-odd-'));
    onTestFinished(() => rm(folder, { recursive: true, force: true }));
    const file = join(folder, 'a.ndjson');
    const other = fc.oneof(
      oddText,
      fc.double(),
      fc.constantFrom(null, true, -1, 1e308, 2 ** 53, [], {}),
      fc.jsonValue({ maxDepth: 2 }),
    );
    const steps = fc.array(fc.nat(200), { minLength: 1, maxLength: 6 });
    // The first line holds the whole plan, so that it is met as often as all others.
    const line = fc.oneof(fc.constant(0), fc.nat(LINES.length - 2));
    await fc.assert(
      fc.asyncProperty(line, steps, other, async (at, path, value) => {
        await writeFile(file, withOther(at, path, value));
        try {
          await readHistory(file);
        } catch (error) {
          if (!(error instanceof NotARecording)) throw error;
        }
      }),
      { seed: 611, numRuns: 300 },
    );
  }, 120_000);
});
