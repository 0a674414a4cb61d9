import { BadUse, EXIT, numberArgument, readArguments, type Command } from '../command-line.js';
import { askIdentity, listPorts, type PortDescription } from '../../drivers/ports.js';

const USAGE = 'railminder ports [--baud N] [--json]';

/** Lists the serial devices that are plugged in, and what each answered when asked for its identity. */
export const portsCommand: Command = {
  name: 'ports',
  does: 'lists what is plugged in, and what answered when asked who it is',
  help: `${USAGE}

Opens each serial port for a moment and sends *IDN?, the identity question of IEEE 488.2. A board that only prints
stays silent; that is no fault. Ports that another program holds are named as busy.

  --baud N   ask at this speed (default 9600)
  --json     as JSON on standard output`,
  async run(args) {
    const { values } = readArguments(
      args,
      USAGE,
      { baud: { type: 'string', default: '9600' }, json: { type: 'boolean', default: false } },
      { atLeast: 0, atMost: 0 },
    );
    const baud = numberArgument('baud', values.baud, { low: 50, high: 4_000_000 });
    const ports = await listedPorts();
    const rows = await Promise.all(
      ports.map(async (port) => ({
        ...port,
        answered: port.kind === 'serial' ? await askIdentity(port.path, baud) : null,
      })),
    );
    if (values.json) console.log(JSON.stringify(rows, null, 2));
    else if (rows.length === 0)
      console.log('Nothing is plugged in. Join the meter or board by USB and ask again.');
    else for (const row of rows) console.log(portLine(row));
    return EXIT.fine;
  },
};

/** @throws {BadUse} when the system doesn't tell its ports. */
async function listedPorts(): Promise<readonly PortDescription[]> {
  try {
    return await listPorts();
  } catch (error) {
    throw new BadUse(error instanceof Error ? error.message : String(error));
  }
}

function portLine(row: PortDescription & { answered: string | null }): string {
  const usb = row.usb === null ? '' : `  usb ${row.usb}`;
  if (row.kind === 'usbtmc') return `${row.path}${usb}`;
  return `${row.path}${usb}  ${row.answered ?? 'no answer to *IDN?'}`;
}
