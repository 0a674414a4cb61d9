import { createInterface } from 'node:readline';
import { PowerupScreen } from './powerup-screen.js';
import { PowerupWalk } from './powerup-walk.js';
import type { Attend } from './run-session.js';
import type { Session } from './session.js';
import { letGo, readKeys } from './terminal-input.js';

/** So that a person sees what moves. */
const SHOW_MS = 500;

export interface PowerupTerminal {
  readonly print: (line: string) => void;
  readonly attend: Attend;
  /** Whether the power-up that was attended was signed off. */
  isSigned(): boolean;
}

/** A person at a terminal with keys, or lines from wherever standard input comes. */
export function attendAtTerminal(input: NodeJS.ReadStream, output: NodeJS.WriteStream): PowerupTerminal {
  const screen = new PowerupScreen(output);
  let attended: Session | null = null;
  return {
    print: screen.print,
    isSigned: () => attended?.state.procedure?.ended === 'signed',
    attend(session) {
      attended = session;
      let quit: () => void = () => undefined;
      const ended = new Promise<void>((resolve) => (quit = resolve));
      const walk = new PowerupWalk(session, screen, () => quit());
      const stopReading = input.isTTY ? walkByKeys(input, walk) : readLines(input, walk);
      const showing = setInterval(() => walk.show(), SHOW_MS);
      walk.begin();
      return {
        ended,
        stop() {
          clearInterval(showing);
          stopReading();
          screen.live('');
        },
      };
    },
  };
}

function walkByKeys(input: NodeJS.ReadStream, walk: PowerupWalk): () => void {
  return readKeys(input, (chunk) => {
    walk.keys.push(chunk);
    walk.show();
  });
}

function readLines(input: NodeJS.ReadStream, walk: PowerupWalk): () => void {
  const lines = createInterface({ input });
  lines.on('line', (line) => walk.keys.line(line));
  return () => {
    lines.close();
    letGo(input);
  };
}
