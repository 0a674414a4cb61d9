import { describe, expect, it } from 'vitest';
import type { Capture, InstrumentEvent } from '../../../drivers/driver.js';
import { memoryLinkPair } from '../../../drivers/links/memory.js';
import { scpiScope } from '../../../drivers/scpi-scope/scpi-scope.js';
import { seededRandom } from '../../../drivers/simulated/random.js';
import { SCPI_SCOPE_IDENTITY, scpiScopeDevice } from '../../../drivers/simulated/scpi-scope-device.js';
import { manualClock } from '../../manual-clock.js';
import { faultsOf, statesOf } from '../events.js';

const SINE = {
  hertz: 50,
  volts: Float64Array.from({ length: 400 }, (_, i) => 10 + Math.sin((2 * Math.PI * i) / 400)),
  driftVolts: 0,
};
const FLAT = { hertz: 50, volts: new Float64Array(400).fill(5), driftVolts: 0 };

function scope(
  dialect: 'ten-field' | 'trace-dif' = 'ten-field',
  around: { wave?: typeof SINE; triggersByItself?: boolean; options?: object } = {},
) {
  const clock = manualClock();
  const { link, far } = memoryLinkPair('scope');
  const device = scpiScopeDevice({
    end: far,
    clock,
    random: seededRandom(5),
    speaks: dialect,
    watch: (input) => (input === 1 ? (around.wave ?? SINE) : null),
    ...(around.triggersByItself !== undefined && { triggersByItself: around.triggersByItself }),
  });
  device.start();
  const events: InstrumentEvent[] = [];
  const captures: Capture[] = [];
  const options = {
    dialect,
    inputs: { 'reservoir.volts': 1 },
    interval_ms: 200,
    timeout_ms: 500,
    ...around.options,
  };
  scpiScope.start({
    instrument: 'scope',
    link,
    channels: scpiScope.channelsOf(options),
    options,
    clock,
    emit: (event) => void events.push(event),
    onCapture: (capture) => void captures.push(capture),
  });
  return { clock, device, events, captures };
}

/** The sine about 10 V with an amplitude of 1 V that was put in, met within two steps of the converter. */
function expectSine({ offset, samples, scale, startSeconds, stepSeconds }: Capture): void {
  samples.forEach((sample, i) => {
    const truth = 10 + Math.sin(2 * Math.PI * 50 * (startSeconds + i * stepSeconds));
    expect(Math.abs(sample * scale + offset - truth)).toBeLessThan(2 * Math.abs(scale) + 0.001);
  });
}

describe.each(['ten-field', 'trace-dif'] as const)('a simulated scope in trouble, in %s', (dialect) => {
  it('is read with slow answers and with torn ones', () => {
    const { captures, clock, device, events } = scope(dialect);
    device.misbehave({ latencyMs: 300, tearing: true });
    clock.advance(10_000);
    expect(captures.length).toBeGreaterThan(2);
    captures.forEach(expectSine);
    expect(faultsOf(events)).toEqual([]);
  });

  it('is read between answers whose end never comes, and never wrongly', () => {
    const { captures, clock, device, events } = scope(dialect);
    device.misbehave({ cutsOneIn: 12 });
    clock.advance(120_000);
    expect(captures.length).toBeGreaterThan(10);
    captures.forEach(expectSine);
    expect(faultsOf(events).join()).toMatch(/no-answer: /);
  });

  it('is told as silent while it is stuck, and read within two seconds when it answers again', () => {
    const { captures, clock, device, events } = scope(dialect);
    clock.advance(3000);
    device.misbehave({ stuck: true });
    clock.advance(20_000);
    expect(statesOf(events)).toEqual(['open', 'reading', 'open']);
    const before = captures.length;
    device.misbehave({ stuck: false });
    clock.advance(2500);
    expect(captures.length).toBeGreaterThan(before);
    expect(statesOf(events).at(-1)).toBe('reading');
  });

  it('is read with a full error queue, whose entries are shown once', () => {
    const { captures, clock, device, events } = scope(dialect);
    device.fillErrorQueue();
    clock.advance(1000);
    device.fillErrorQueue();
    clock.advance(5000);
    expect(faultsOf(events).filter((fault) => fault.includes('-350,"Queue overflow"'))).toHaveLength(1);
    expect(captures.length).toBeGreaterThan(3);
  });

  it('is told not to trigger when nothing rises, and read by itself when it may', () => {
    const waits = scope(dialect, {
      wave: FLAT,
      triggersByItself: false,
      options: { trigger_timeout_ms: 1000 },
    });
    waits.clock.advance(5000);
    expect(waits.captures).toEqual([]);
    expect(faultsOf(waits.events)[0]).toMatch(
      /no-answer: the scope did not trigger within 1000 ms .*check its trigger level/,
    );
    const free = scope(dialect, { wave: FLAT });
    free.clock.advance(5000);
    expect(free.captures.length).toBeGreaterThan(3);
  });
});

describe('the simulated scope at its connector', () => {
  function plain() {
    const clock = manualClock();
    let said = '';
    let hear: (bytes: Uint8Array) => void = () => undefined;
    const device = scpiScopeDevice({
      end: {
        send: (bytes) => void (said += Buffer.from(bytes).toString('latin1')),
        onBytes: (listener) => void (hear = listener),
      },
      clock,
      random: seededRandom(6),
      speaks: 'ten-field',
      watch: () => SINE,
    });
    device.start();
    return {
      ask: (text: string): string => {
        said = '';
        hear(Buffer.from(`${text}\n`));
        clock.advance(500);
        return said;
      },
    };
  }

  it('answers like SCPI: identity, errors in order, several questions in one message', () => {
    const { ask } = plain();
    expect(ask('*IDN?')).toBe(`${SCPI_SCOPE_IDENTITY}\n`);
    expect(ask('NONSENSE')).toBe('');
    expect(ask(':CHANnel1:PROBe 20;COUPling?')).toBe('DC\n');
    expect(ask('chan1:prob?')).toBe('+2.00000000E+01\n');
    expect(ask('SYST:ERR?')).toBe('-113,"Undefined header"\n');
    expect(ask(':CHAN9:PROB?')).toBe('');
    expect(ask('SYST:ERR?')).toBe('-114,"Header suffix out of range"\n');
  });

  it('has no data before the first acquisition, and ignores a second start', () => {
    const { ask } = plain();
    ask(':WAV:DATA?');
    expect(ask('SYST:ERR?')).toBe('-230,"Data corrupt or stale"\n');
    ask(':SING;:SING');
    expect(ask('SYST:ERR?')).toBe('-213,"Init ignored"\n');
    expect(ask(':WAV:POIN 20;:SING')).toBe('');
    expect(ask(':WAV:DATA?')).toMatch(/^#800000020[^]{20}\n$/);
    expect(ask(':WAV:PRE?').split(',')).toHaveLength(10);
  });
});
