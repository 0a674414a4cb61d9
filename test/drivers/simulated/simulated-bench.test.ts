import { afterEach, describe, expect, it } from 'vitest';
import { benchSchema } from '../../../daemon/design/bench.js';
import type { Link, LinkState } from '../../../drivers/link.js';
import { startSimulatedBench } from '../../../drivers/simulated/simulated-bench.js';
import type { SimulatedBench, SimulatedBenchOptions } from '../../../drivers/simulated/simulated-bench.js';
import { manualClock } from '../../manual-clock.js';
import { CABIN, CABIN_BENCH } from './cabin.js';

const running: SimulatedBench[] = [];
afterEach(() => Promise.all(running.splice(0).map((bench) => bench.stop())));

function cabinBench(options: Partial<SimulatedBenchOptions> = {}) {
  const clock = manualClock();
  const bench = startSimulatedBench({ design: CABIN, bench: CABIN_BENCH, clock, ...options });
  running.push(bench);
  return { clock, bench };
}

function listen(link: Link) {
  const states: string[] = [];
  let text = '';
  link.start({
    onState: (state: LinkState) => void states.push(state.kind),
    onBytes: (chunk) => (text += new TextDecoder().decode(chunk)),
  });
  return {
    states,
    write: (message: string) => link.write(new TextEncoder().encode(message)),
    taken(): string {
      const taken = text;
      text = '';
      return taken;
    },
  };
}

describe('instruments in memory', () => {
  it('the meter reads the reservoir at which its probe sits', async () => {
    const { clock, bench } = cabinBench();
    const meter = listen(bench.linkFor('meter'));
    clock.advance(2000);
    await meter.write('*CLS\nCONF:VOLT:DC\nREAD?\n');
    clock.advance(200);
    expect(Math.abs(Number(meter.taken()) - bench.truth('reservoir.volts'))).toBeLessThan(0.01);
  });

  it('the board prints the cases at its interval', () => {
    const { clock, bench } = cabinBench();
    const probes = listen(bench.linkFor('probes'));
    clock.advance(3500);
    const lines = probes.taken().trimEnd().split('\r\n');
    expect(lines).toHaveLength(3);
    for (const line of lines) expect(line).toMatch(/^T1: \d\d\.\d C, T2: \d\d\.\d C$/);
  });

  it('the other board prints the rails at its own interval', () => {
    const { clock, bench } = cabinBench();
    const rails = listen(bench.linkFor('rails'));
    clock.advance(2000);
    expect(rails.taken().trimEnd().split('\r\n').at(-1)).toMatch(/^LAMPS 12\.0\d V LOGIC (4\.9|5\.0)\d V$/);
  });

  it('a probe can be moved to another point', async () => {
    const { clock, bench } = cabinBench();
    const meter = listen(bench.linkFor('meter'));
    clock.advance(2000);
    bench.moveProbe('meter', 'volts', 'lamps.volts');
    await meter.write('READ?\n');
    clock.advance(200);
    expect(Number(meter.taken())).toBeCloseTo(12.03, 1);
  });

  it('a second link takes the instrument over', async () => {
    const { clock, bench } = cabinBench();
    const first = listen(bench.linkFor('meter'));
    const second = listen(bench.linkFor('meter'));
    await second.write('*OPC?\n');
    clock.advance(100);
    expect([first.taken(), second.taken()]).toEqual(['', '1\n']);
  });
});

describe('plugs', () => {
  it('pulled out, the link is lost and the device forgets; back in, it works again', async () => {
    const { clock, bench } = cabinBench();
    const meter = listen(bench.linkFor('meter'));
    await meter.write('NONSENSE\nREAD?\n');
    await bench.unplug('meter');
    clock.advance(1000);
    expect(meter.states).toEqual(['open', 'lost']);
    expect(meter.taken()).toBe('');
    await bench.plugIn('meter');
    await meter.write('SYST:ERR?\n');
    clock.advance(100);
    expect(meter.states).toEqual(['open', 'lost', 'back']);
    expect(meter.taken()).toBe('0,"No error"\n');
  });

  it('one plug leaves the other instruments alone', async () => {
    const { clock, bench } = cabinBench();
    const probes = listen(bench.linkFor('probes'));
    await bench.unplug('meter');
    clock.advance(1000);
    expect(probes.taken()).toMatch(/^T1: /);
  });

  it('stop leaves no timer and can be called twice', async () => {
    const { clock, bench } = cabinBench();
    const probes = listen(bench.linkFor('probes'));
    await bench.stop();
    await bench.stop();
    clock.advance(10_000);
    expect(probes.taken()).toBe('');
  });
});

describe('faults and switches', () => {
  it('a fault switched in shows in the readings', () => {
    const { clock, bench } = cabinBench();
    const rails = listen(bench.linkFor('rails'));
    clock.advance(2000);
    bench.switchFault('regulator-passes-input', 'logic');
    rails.taken();
    clock.advance(1000);
    expect(rails.taken()).toMatch(/LOGIC 18\.\d\d V/);
  });

  it('without its heatsink the logic regulator leaves the healthy band long before ten minutes are over', () => {
    const { clock, bench } = cabinBench({ fault: 'heatsink-missing' });
    const probes = listen(bench.linkFor('probes'));
    clock.advance(60_000);
    const [, logic] = /T2: ([\d.]+) C\r\n$/.exec(probes.taken()) ?? [];
    expect(Number(logic)).toBeGreaterThan(100);
  });

  it('power can be off at first', () => {
    const { clock, bench } = cabinBench({ power: 'off' });
    clock.advance(5000);
    expect(bench.truth('reservoir.volts')).toBe(0);
    bench.power('on');
    clock.advance(1000);
    expect(bench.truth('reservoir.volts')).toBeGreaterThan(18);
  });
});

describe('what it cannot simulate', () => {
  function benchWith(instrument: object) {
    const link = { serial: '/dev/ttyUSB0' };
    const bench = benchSchema.parse({ bench: 'x', instruments: { odd: { link, ...instrument } } });
    return () => cabinBench({ bench });
  }

  it('is an error that names the place and what there is', () => {
    expect(benchWith({ driver: 'crystal-ball' })).toThrow(
      'instruments.odd.driver: found "crystal-ball"; the simulated bench has scpi-meter, scpi-scope, text-lines',
    );
    expect(benchWith({ driver: 'text-lines', options: { pattern: '{bell.volts} V' } })).toThrow(
      /^instruments\.odd\.channels\.bell\.volts: found "bell\.volts"; this supply has reservoir\.volts, /,
    );
    expect(() => cabinBench().bench.linkFor('odd')).toThrow(
      'instrument: found "odd"; this bench has meter, probes, rails',
    );
    expect(() => cabinBench().bench.moveProbe('meter', 'volts', 'nowhere')).toThrow(/found "nowhere"/);
  });
});
