import { expect } from 'vitest';
import type { ChangesMessage, DaemonMessage, SnapshotMessage } from '../../../daemon/serve/messages.js';
import type { PageSocket } from '../../../daemon/serve/page-client.js';

/** A page that takes what it gets at once, or never while it is `stuck`. */
export interface FakePage extends PageSocket {
  bufferedAmount: number;
  stuck: boolean;
  readonly received: DaemonMessage[];
  readonly ended: string[];
  /** Takes everything that waits. */
  drain(): void;
  snapshots(): SnapshotMessage[];
  changes(): ChangesMessage[];
}

export function fakePage(): FakePage {
  const page: FakePage = {
    bufferedAmount: 0,
    stuck: false,
    received: [],
    ended: [],
    send(text) {
      page.received.push(JSON.parse(text) as DaemonMessage);
      if (page.stuck) page.bufferedAmount += Buffer.byteLength(text);
    },
    close: (code, reason) => page.ended.push(`${code} ${reason}`),
    terminate: () => page.ended.push('terminated'),
    drain() {
      page.stuck = false;
      page.bufferedAmount = 0;
    },
    snapshots: () => page.received.filter((message) => message.kind === 'snapshot'),
    changes: () => page.received.filter((message) => message.kind === 'changes'),
  };
  return page;
}

/** Every message has a number one above that of the one before. */
export function expectNoGap(page: FakePage): void {
  expect(page.received.map(({ seq }) => seq)).toEqual(page.received.map((_, i) => i + 1));
}
