import type { Attend } from '../run-session.js';
import { readKeys, readTypedLines } from '../terminal-input.js';
import type { LiveTable } from '../terminal-table/live-table.js';
import { TerminalTyping } from '../terminal-typing.js';
import { WatchKeys } from './watch-keys.js';

/**
 * Whoever sits at the terminal of a session: readings that are typed, where the bench has an instrument that is read by
 * a person, with the keys as lines between them; else single keys under the table.
 * @param table null where nobody looks at one
 */
export function attendWatch(input: NodeJS.ReadStream, table: LiveTable | null): Attend {
  return (session, say) => {
    let end: () => void = () => undefined;
    const ended = new Promise<void>((resolve) => (end = resolve));
    const hands = {
      get state() {
        return session.state;
      },
      say,
      act: (action: Parameters<typeof session.act>[0]) => void session.act(action),
    };
    const keys = new WatchKeys(hands, () => end());
    const typing = new TerminalTyping(session, say);
    if (typing.isWanted) {
      typing.begin();
      say('A line with ? alone says what else you can do here.');
      return { ended, stop: readTypedLines(input, (line) => keys.line(line) || typing.take(line)) };
    }
    if (table === null || !input.isTTY) return { ended, stop: () => undefined };
    table.showBelow(() => keys.lines);
    const stopReading = readKeys(input, (chunk) => {
      keys.push(chunk);
      table.repaint();
    });
    return {
      ended,
      stop() {
        stopReading();
        table.showBelow(() => []);
        table.repaint();
      },
    };
  };
}
