import { describe, expect, it } from 'vitest';
import { memoryLinkPair } from '../../../drivers/links/memory.js';
import { tappedLink } from '../../../drivers/links/tapped.js';

function tapped() {
  const { link, far } = memoryLinkPair('board');
  const log: string[] = [];
  const seen = tappedLink(link, {
    onBytes: (chunk) => log.push(`tap ${Buffer.from(chunk).toString()}`),
    onOpened: () => log.push('opened'),
  });
  seen.start({
    onState: ({ kind }) => log.push(kind),
    onBytes: (chunk) =>
      log.push(`driver ${chunk.length > 40 ? chunk.length : Buffer.from(chunk).toString()}`),
  });
  return { far, log };
}

describe('a tapped link', () => {
  it('shows each line before the driver gets it, and every byte goes on', () => {
    const { far, log } = tapped();
    far.send(Buffer.from('a 1\nb 2\nc'));
    expect(log).toEqual([
      'opened',
      'open',
      'tap a 1\n',
      'driver a 1\n',
      'tap b 2\n',
      'driver b 2\n',
      'tap c',
      'driver c',
    ]);
  });

  it('a large chunk goes on whole, and an empty one does too', () => {
    const { far, log } = tapped();
    far.send(Buffer.alloc(4096, 10));
    far.send(new Uint8Array(0));
    expect(log.slice(-1)).toEqual(['driver ']);
    expect(log).toContain('driver 4096');
  });
});
