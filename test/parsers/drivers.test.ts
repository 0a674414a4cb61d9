import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Measurand } from '../../drivers/driver.js';
import { readTyped } from '../../drivers/by-hand/typed-value.js';
import { FrameReader } from '../../drivers/lcd-frames/frame-reader.js';
import { NumberReader } from '../../drivers/lines/number-reader.js';
import { measurandOfUnit, timesPower, unitPower, unitWordAt } from '../../drivers/lines/unit-words.js';
import { memoryLinkPair } from '../../drivers/links/memory.js';
import { AnswerEnd } from '../../drivers/links/usbtmc-answer.js';
import { identityIn } from '../../drivers/listen/identity.js';
import { judge } from '../../drivers/listen/judge.js';
import { framesIn, requestBytes } from '../../drivers/modbus-rtu/frames.js';
import { DRIVERS } from '../../drivers/registry.js';
import { parseAnyReply, parseReply } from '../../drivers/scpi-meter/reply.js';
import { dialectFrom, dialectProblems } from '../../drivers/scpi-scope/dialect.js';
import { numberIn } from '../../drivers/scpi-scope/preamble.js';
import { ReplyReader } from '../../drivers/scpi-scope/reply-reader.js';
import { sensorProblems } from '../../drivers/sensors/sensor-rules.js';
import { LineMatcher } from '../../drivers/text-lines/matcher.js';
import { parsePattern, PatternProblem } from '../../drivers/text-lines/pattern.js';
import { UNIT_OF } from '../../drivers/units.js';
import { manualClock } from '../manual-clock.js';
import { oddBytes, oddOptions, oddText } from './odd-text.js';

const measurand = fc.constantFrom(...(Object.keys(UNIT_OF) as Measurand[]));
const OPTION_KEYS = [
  'pattern', 'patterns', 'format', 'fields', 'separator', 'header', 'decimal', 'interval_ms', 'interval_s',
  'unit', 'registers', 'function', 'baud', 'layout', 'dialect', 'measures', 'channel', 'commands', 'name',
  'address', 'type', 'order', 'scale', 'offset', 'thermocouple', 'cold_junction', 'ntc', 'beta', 'pt100', 'divider',
]; // prettier-ignore

/** Nothing but these may be thrown. */
function thrownBy(work: () => void, ...stated: readonly (new (...rest: never[]) => Error)[]): void {
  try {
    work();
  } catch (error) {
    if (!stated.some((kind) => error instanceof kind)) throw error;
  }
}

describe('what an instrument says is read or refused, never thrown at', () => {
  it('a number of a SCPI meter: the quick reading and the plain one agree (seed 501)', () => {
    fc.assert(
      fc.property(oddText, measurand, (text, measures) => {
        const reply = parseReply(text, measures);
        expect(reply).toEqual(parseAnyReply(text, measures));
        expect(reply === null || reply.mark !== null || Number.isFinite(reply.value)).toBe(true);
      }),
      { seed: 501, numRuns: 2000 },
    );
  });

  it('data blocks: no more is kept than the rules allow (seed 502)', () => {
    fc.assert(
      fc.property(fc.array(oddBytes, { maxLength: 6 }), fc.option(fc.nat(300)), (chunks, indefinite) => {
        const kept: number[] = [];
        const faults = { count: () => undefined, tell: () => undefined, stop: () => undefined };
        const reader = new ReplyReader(({ text, block }) => {
          kept.push(text?.length ?? 0, block?.length ?? 0);
        }, faults);
        reader.allowBlocks({ mostBytes: 200, indefiniteBytes: () => indefinite });
        for (const chunk of chunks) reader.push(chunk, 0);
        reader.end();
        for (const length of kept) expect(length).toBeLessThanOrEqual(4096);
      }),
      { seed: 502, numRuns: 1000 },
    );
  });

  it('a number of a preamble (seed 503)', () => {
    fc.assert(
      fc.property(oddText, (text) => {
        const number = numberIn(text);
        expect(number === null || Number.isFinite(number)).toBe(true);
      }),
      { seed: 503, numRuns: 1000 },
    );
  });

  it('a pattern in plain words, and any line against it (seed 504)', () => {
    fc.assert(
      fc.property(oddText, oddBytes, (source, line) => {
        thrownBy(() => {
          const pattern = parsePattern(source);
          const matcher = new LineMatcher(pattern);
          if (!matcher.match(line)) return;
          matcher.marks.forEach((mark, slot) =>
            expect(mark !== null || !Number.isNaN(matcher.values[slot])).toBe(true),
          );
        }, PatternProblem);
      }),
      { seed: 504, numRuns: 2000 },
    );
  });

  it('a number in bytes ends within them (seed 505)', () => {
    fc.assert(
      fc.property(
        oddBytes,
        fc.nat(50),
        fc.constantFrom('point' as const, 'comma' as const),
        (bytes, from, decimal) => {
          const numbers = new NumberReader(decimal);
          if (!numbers.read(bytes, from)) return;
          expect(numbers.end).toBeLessThanOrEqual(bytes.length);
          expect(Number.isNaN(numbers.value)).toBe(numbers.mark !== null);
        },
      ),
      { seed: 505, numRuns: 2000 },
    );
  });

  it('frames of a display (seed 506)', () => {
    fc.assert(
      fc.property(fc.constantFrom(14, 15), fc.array(oddBytes, { maxLength: 4 }), (length, chunks) => {
        const reader = new FrameReader(length, {
          onFrame: (halves) => {
            expect(halves.length).toBe(length);
            for (const half of halves) expect(half).toBeLessThan(16);
          },
          onTorn: () => undefined,
        });
        chunks.forEach((chunk, at) => reader.push(chunk, at));
      }),
      { seed: 506, numRuns: 1000 },
    );
  });

  it('frames of a bus lie within what was heard, one behind the other (seed 507)', () => {
    const request = fc
      .record({
        unit: fc.integer({ min: 1, max: 247 }),
        address: fc.nat(65_535),
        count: fc.integer({ min: 1, max: 125 }),
      })
      .map((one) => requestBytes({ ...one, functionCode: 3 }));
    fc.assert(
      fc.property(fc.array(fc.oneof(oddBytes, request), { maxLength: 6 }), (pieces) => {
        const heard = new Uint8Array(Buffer.concat(pieces));
        let end = 0;
        for (const frame of framesIn(heard)) {
          expect(frame.start).toBeGreaterThanOrEqual(end);
          end = frame.end;
        }
        expect(end).toBeLessThanOrEqual(heard.length);
      }),
      { seed: 507, numRuns: 1000 },
    );
  });

  it('the end of a USB answer, and an identity (seed 508)', () => {
    fc.assert(
      fc.property(fc.array(oddBytes, { maxLength: 4 }), (pieces) => {
        const end = new AnswerEnd();
        for (const piece of pieces) end.take(piece);
        expect(typeof end.reached).toBe('boolean');
        const identity = identityIn(new Uint8Array(Buffer.concat(pieces)));
        expect(identity ?? '').not.toMatch(/[\u0000-\u001f\u007f]/);
      }),
      { seed: 508, numRuns: 1000 },
    );
  });

  it('whatever is heard on a port is judged, and a proposal can be used (seed 509)', () => {
    const line = fc.array(
      fc.constantFrom('T1:', ' 41.3', ' C', ',', '5', '{"a":1}', '"', 'U=', ' mV', ';', '0.5'),
      {
        maxLength: 8,
      },
    );
    const lines = fc.array(
      fc.oneof(
        line.map((parts) => parts.join('')),
        oddText,
      ),
      { maxLength: 8 },
    );
    fc.assert(
      fc.property(
        fc.oneof(
          oddBytes,
          lines.map((all) => new Uint8Array(Buffer.from(all.join('\r\n')))),
        ),
        (bytes) => {
          const found = judge(bytes);
          if (found.kind !== 'lines') return;
          expect(DRIVERS['text-lines']?.checkOptions(found.proposal.options)).toEqual([]);
        },
      ),
      { seed: 509, numRuns: 1000 },
    );
  });
});

describe('what a person writes is read or refused, never thrown at', () => {
  it('a typed reading (seed 511)', () => {
    fc.assert(
      fc.property(oddText, measurand, (typed, measures) => {
        const read = readTyped(typed, measures);
        expect(read.why !== null || read.mark !== null || Number.isFinite(read.value)).toBe(true);
      }),
      { seed: 511, numRuns: 2000 },
    );
  });

  it('a typed reading is what was written, within a double (seed 512)', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -999_999, max: 999_999 }),
        fc.integer({ min: 0, max: 3 }),
        (counts, decimals) => {
          const value = counts / 10 ** decimals;
          const text = value.toFixed(decimals);
          expect(readTyped(text, 'dc-volts')).toMatchObject({ value, mark: null, why: null });
          expect(readTyped(text.replace('.', ','), 'dc-volts')).toMatchObject({
            value,
            mark: null,
            why: null,
          });
        },
      ),
      { seed: 512, numRuns: 1000 },
    );
  });

  it('a unit word names one measurand, whose power it has (seed 513)', () => {
    fc.assert(
      fc.property(oddText, fc.nat(20), (text, from) => {
        const word = unitWordAt(text, from);
        const measures = measurandOfUnit(word);
        if (measures === undefined) return;
        const power = unitPower(measures, word);
        expect(power).toBeDefined();
        expect(timesPower(timesPower(2, power ?? NaN), -(power ?? NaN))).toBeCloseTo(2, 9);
      }),
      { seed: 513, numRuns: 2000 },
    );
  });

  it('a dialect and a sensor written out (seed 514)', () => {
    const keys = [
      'dialect',
      'bits',
      'preamble',
      'ask',
      'set',
      'fields',
      'thermocouple',
      'ntc',
      'pt100',
      'shunt',
      'divider',
    ];
    fc.assert(
      fc.property(oddOptions(keys), (written) => {
        expect(dialectFrom(written) === null || dialectProblems(written).length === 0).toBe(true);
        expect(Array.isArray(sensorProblems(written))).toBe(true);
      }),
      { seed: 514, numRuns: 1000 },
    );
  });

  describe.each(Object.entries(DRIVERS))('options of %s', (name, driver) => {
    it(`any: those without a problem can be run on anything (seed 515)`, () => {
      fc.assert(
        fc.property(oddOptions(OPTION_KEYS), fc.array(oddBytes, { maxLength: 3 }), (options, chunks) => {
          if (driver.checkOptions(options).length > 0) return;
          const channels = driver.channelsOf(options);
          expect(driver.intervalMs(options)).toBeGreaterThan(0);
          const { link, far } = memoryLinkPair(name);
          const clock = manualClock();
          const running = driver.start({
            instrument: name,
            link,
            channels,
            options,
            clock,
            emit: () => undefined,
          });
          for (const chunk of chunks) far.send(chunk);
          clock.advance(3000);
          void running.stop();
        }),
        { seed: 515, numRuns: 500 },
      );
    });
  });
});
