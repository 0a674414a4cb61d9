import { emitKeypressEvents } from 'node:readline';
import { isInForeground } from '../foreground.js';
import type { Player, PlayListener } from '../record/player.js';
import { clockWords } from '../watch/clock-words.js';

const JUMP_MS = 10_000;

export interface KeysOptions {
  /** Infinity: as fast as the machine can. */
  readonly speed: number;
  readonly listener: PlayListener;
  readonly say: (line: string) => void;
}

/** Whether there is a keyboard that is ours: the system stops a program in the background that sets its terminal. */
export function isAtKeys(): boolean {
  return process.stdin.isTTY && isInForeground();
}

type Wish = 'pause' | 'back' | 'on' | 'quit';
const WISHES: Readonly<Record<string, Wish>> = { space: 'pause', left: 'back', right: 'on', q: 'quit' };

/** Plays until the end; where there is a keyboard it pauses, seeks and ends on demand. */
export async function playWithKeys(player: Player, { speed, listener, say }: KeysOptions): Promise<void> {
  const keys = listenToKeys();
  try {
    for (;;) {
      const pause = new AbortController();
      keys.onWish(() => pause.abort());
      const ended = (await player.play({ speed, listener, signal: pause.signal })) === 'end';
      if (ended) return say(`End: ${clockWords(player.state.nowMs)} long.`);
      let wish = keys.take();
      if (wish === 'pause') {
        say(`${clockWords(player.state.nowMs)}  paused`);
        wish = await keys.next();
      }
      if (wish === 'quit') return;
      if (wish === 'back' || wish === 'on') {
        const step = wish === 'back' ? -JUMP_MS : JUMP_MS;
        await player.seek(Math.max(0, player.state.nowMs + step));
        say(`${clockWords(player.state.nowMs)}  from here`);
      }
    }
  } finally {
    keys.stop();
  }
}

interface Keys {
  /** Calls once a wish has come, at once for one that came while another was carried out. */
  onWish(action: () => void): void;
  /** The wish that has come. */
  take(): Wish | null;
  next(): Promise<Wish>;
  stop(): void;
}

/** Ctrl-C ends it as q does, with or without a keyboard. */
function listenToKeys(): Keys {
  const { stdin } = process;
  const hasKeys = isAtKeys();
  let wish: Wish | null = null;
  let told: () => void = () => undefined;
  const came = (found: Wish): void => {
    wish = found;
    told();
  };
  const onKey = (_text: unknown, key: { readonly name?: string; readonly ctrl?: boolean }): void => {
    const found = key.ctrl === true && key.name === 'c' ? 'quit' : WISHES[key.name ?? ''];
    if (found !== undefined) came(found);
  };
  const onInterrupt = (): void => came('quit');
  process.on('SIGINT', onInterrupt);
  if (hasKeys) {
    emitKeypressEvents(stdin);
    stdin.setRawMode(true);
    stdin.on('keypress', onKey);
    stdin.resume();
  }
  const take = (): Wish | null => {
    const found = wish;
    wish = null;
    return found;
  };
  const onWish = (action: () => void): void => {
    told = action;
    if (wish !== null) told();
  };
  return {
    onWish,
    take,
    async next() {
      await new Promise<void>(onWish);
      return take() ?? 'pause';
    },
    stop() {
      process.off('SIGINT', onInterrupt);
      if (!hasKeys) return;
      stdin.off('keypress', onKey);
      stdin.setRawMode(false);
      stdin.pause();
    },
  };
}
