import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { BenchLink } from '../../daemon/design/bench.js';
import type { InstrumentPort } from './instrument-port.js';
import { openAnyPty } from './pty.js';
import type { SimulatedBench } from './simulated-bench.js';
import { openTcp } from './tcp.js';

/** Where a program finds a simulated instrument, as a bench file would say it. */
export interface ServedInstrument {
  readonly instrument: string;
  readonly link: BenchLink;
}

export interface ServedBench {
  readonly instruments: readonly ServedInstrument[];
  /** Stops the bench, takes the paths away and removes their folder. */
  stop(): Promise<void>;
}

export interface ServeOptions {
  /** `serial` where there are pseudo-terminals (the default), else `tcp`. */
  readonly as?: 'serial' | 'tcp';
  /** Where the device paths go; an own folder in the system's temporary one by default. */
  readonly directory?: string;
}

/**
 * Gives every instrument of the bench a device path of its own, or a TCP port on the loopback address where
 * pseudo-terminals can't be had.
 */
export async function serveSimulatedBench(
  bench: SimulatedBench,
  options: ServeOptions = {},
): Promise<ServedBench> {
  const ownFolder =
    options.directory === undefined ? await mkdtemp(join(tmpdir(), 'simulated-bench-')) : null;
  const directory = options.directory ?? ownFolder ?? tmpdir();
  const instruments: ServedInstrument[] = [];
  for (const instrument of bench.instruments) {
    const port = bench.portOf(instrument);
    const path = join(directory, instrument);
    const link = (options.as === 'tcp' ? null : await serveOnPty(port, path)) ?? (await serveOnTcp(port));
    instruments.push({ instrument, link });
  }
  return {
    instruments,
    async stop() {
      await bench.stop();
      if (ownFolder !== null) await rm(ownFolder, { recursive: true, force: true });
    },
  };
}

async function serveOnPty(port: InstrumentPort, path: string): Promise<BenchLink | null> {
  const outlet = await openAnyPty(path, (bytes) => port.receive(bytes));
  if (!outlet) return null;
  port.attach(outlet);
  return { serial: path, baud: 9600 };
}

async function serveOnTcp(port: InstrumentPort): Promise<BenchLink> {
  const outlet = await openTcp((bytes) => port.receive(bytes));
  port.attach(outlet);
  return { tcp: outlet.address };
}
