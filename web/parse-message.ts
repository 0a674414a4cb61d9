import type { DaemonMessage } from '../daemon/serve/messages.js';

const KINDS: readonly unknown[] = ['snapshot', 'changes', 'refused'];

/** The message in `text`, or null when it isn't one. The daemon is trusted for what is inside. */
export function parseMessage(text: unknown): DaemonMessage | null {
  if (typeof text !== 'string') return null;
  try {
    const message: unknown = JSON.parse(text);
    if (typeof message !== 'object' || message === null) return null;
    const { kind, seq } = message as { kind?: unknown; seq?: unknown };
    return KINDS.includes(kind) && Number.isSafeInteger(seq) ? (message as DaemonMessage) : null;
  } catch {
    return null;
  }
}
