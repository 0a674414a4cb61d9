import { BadUse, EXIT, numberArgument, readArguments, type Command } from '../command-line.js';
import { askPort, type Answer } from '../../drivers/listen/ask-port.js';
import { listPorts, type PortDescription } from '../../drivers/ports.js';

const USAGE = 'railminder ports [--ask] [--baud N] [--json]';

type Row = PortDescription & { readonly answered?: Answer };

/** Lists the serial ports and USB instruments that are plugged in, and what each answered if it was asked. */
export const portsCommand: Command = {
  name: 'ports',
  does: 'lists what is plugged in; with --ask, what answered when asked who it is',
  help: `${USAGE}

Lists serial ports and USB instruments with what the system knows of them. Nothing is opened without --ask.

  --ask      open each for a few seconds, send *IDN? (the identity question of IEEE 488.2), and show the answer or what
             it prints. Opening a port restarts some boards, and lines on it may switch what hangs there: don't ask
             while one of them drives something
  --baud N   ask serial ports at this speed (default 9600); railminder listen PORT finds the speed of one
  --json     as JSON on standard output`,
  async run(args) {
    const { values } = readArguments(
      args,
      USAGE,
      {
        ask: { type: 'boolean', default: false },
        baud: { type: 'string', default: '9600' },
        json: { type: 'boolean', default: false },
      },
      { atLeast: 0, atMost: 0 },
    );
    const baud = numberArgument('baud', values.baud, { low: 50, high: 4_000_000 });
    const ports = await listedPorts();
    if (values.ask && ports.length > 0 && !values.json) {
      console.error('Opens each port for a few seconds; boards may restart.');
    }
    const rows: readonly Row[] = values.ask
      ? await Promise.all(ports.map(async (port) => ({ ...port, answered: await asked(port, baud) })))
      : ports;
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

function asked({ kind, path }: PortDescription, baud: number): Promise<Answer> {
  return askPort(kind === 'serial' ? { serial: path } : { usbtmc: path }, baud);
}

/** Path, USB identity, what the device calls itself, and what it answered. */
export function portLine({ path, usb, serial, maker, product, answered }: Row): string {
  const identity = usb === null ? '' : `usb ${[usb, ...(serial === null ? [] : [serial])].join(':')}`;
  const called = [maker, product].filter((word) => word !== null).join(' ');
  const answer = answered === undefined ? '' : answerWords(path, answered);
  return [path, identity, called, answer].filter((word) => word !== '').join('  ');
}

function answerWords(path: string, answer: Answer): string {
  switch (answer.kind) {
    case 'identity':
      return `answers "${answer.text}"`;
    case 'prints':
      return `prints "${answer.text}"`;
    case 'garbled':
      return `sends what is no text at this speed; railminder listen ${path} finds out`;
    case 'silent':
      return 'says nothing and does not answer *IDN?';
    case 'not-open':
      return answer.why;
  }
}
