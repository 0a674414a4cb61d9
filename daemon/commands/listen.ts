import { benchText } from '../bench-text.js';
import { BadUse, EXIT, numberArgument, readArguments, type Command } from '../command-line.js';
import { draftInstrument } from '../draft-instrument.js';
import { judgementWords } from '../judgement-words.js';
import { placeOf, type Place } from '../../drivers/listen/place.js';
import { listen, type Listened } from '../../drivers/listen/listen.js';
import { printable } from '../../drivers/printable.js';

const USAGE = 'railminder listen PORT [--seconds N] [--baud N]';
const MOST_LINES_SHOWN = 20;
const MOST_SHOWN_WIDTH = 96;

/** Shows what a port is saying and proposes how to read it. */
export const listenCommand: Command = {
  name: 'listen',
  does: 'shows what a port is saying and proposes the lines for the bench file',
  help: `${USAGE}

PORT is a device path or COM3, a host:port, or /dev/usbtmc0. Finds the speed by trying, shows what comes, and says which
driver reads it, with its part of the bench file. A device that says nothing by itself is asked *IDN?, the identity
question of IEEE 488.2, and one that answers, what scopes are asked of their inputs. If nothing answers, a register of
MODBUS units 1 to 3 is read. Only questions are sent; don't send them to a board that switches something by bytes of its
own. Opening a port restarts some boards.

  --seconds N   how long to listen once the speed is found (default 5)
  --baud N      bits per second; without it the usual ones are tried

Ctrl-C ends it and judges what was heard until then. Exit code 1 when nothing was understood.`,
  async run(args) {
    const { values, positionals } = readArguments(
      args,
      USAGE,
      { seconds: { type: 'string', default: '5' }, baud: { type: 'string' } },
      { atLeast: 1, atMost: 1 },
    );
    const seconds = numberArgument('seconds', values.seconds, { low: 0.1, high: 3600 });
    const baud =
      values.baud === undefined ? null : numberArgument('baud', values.baud, { low: 50, high: 4_000_000 });
    const place = placeOf(positionals[0] ?? '');
    const ending = new AbortController();
    const interrupt = (): void => ending.abort();
    process.once('SIGINT', interrupt).once('SIGTERM', interrupt);
    const shown = new Shown();
    try {
      const found = await listen(place, {
        seconds,
        ...(baud !== null && { baud }),
        signal: ending.signal,
        onBytes: (chunk) => shown.take(chunk),
        onTry: (words) => console.error(`… ${words}`),
      });
      shown.end();
      return tell(place, found);
    } catch (error) {
      throw new BadUse(error instanceof Error ? error.message : String(error));
    } finally {
      process.off('SIGINT', interrupt).off('SIGTERM', interrupt);
    }
  },
};

function tell(place: Place, found: Listened): 0 | 1 {
  const speed = found.baud === null ? '' : ` at ${found.baud} baud`;
  console.log(`\n${Object.values(place)[0]}${speed}: ${judgementWords(found.judgement)}`);
  const draft = draftInstrument(place, found);
  if (draft === null) return EXIT.outside;
  console.log(`\n${benchText('My table', [draft])}`);
  return EXIT.fine;
}

/** Prints what comes, line by line, made printable and bounded. */
class Shown {
  readonly #decoder = new TextDecoder();
  #rest = '';
  #lines = 0;

  take(chunk: Uint8Array): void {
    const [rest = '', ...lines] = (this.#rest + this.#decoder.decode(chunk, { stream: true }))
      .split(/\r\n|\n|\r/)
      .reverse();
    this.#rest = rest.slice(-MOST_SHOWN_WIDTH);
    for (const line of lines.reverse()) this.#print(line);
    if (rest.length > MOST_SHOWN_WIDTH) this.#print(rest);
  }

  end(): void {
    if (this.#rest !== '' && this.#lines === 0) this.#print(this.#rest);
    const more = this.#lines - MOST_LINES_SHOWN;
    if (more > 0) console.log(`  … and ${more} more ${more === 1 ? 'line' : 'lines'}`);
  }

  #print(line: string): void {
    const text = printable(line, MOST_SHOWN_WIDTH);
    if (text === '') return;
    this.#lines += 1;
    if (this.#lines <= MOST_LINES_SHOWN) console.log(`  ${text}`);
  }
}
