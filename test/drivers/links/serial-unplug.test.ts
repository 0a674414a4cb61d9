import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Link } from '../../../drivers/link.js';
import { serialLink } from '../../../drivers/links/serial.js';
import { openPtyPair, type PtyPair } from '../pty.js';
import { listenTo, times } from './heard.js';

const ROUNDS = 50;
const FLOOD_BLOCK = Buffer.from('T1: 41.3 C, T2: 38.9 C\r\n'.repeat(100));

describe.skipIf(process.platform === 'win32')(
  'a serial link over a pseudo-terminal that is pulled out',
  () => {
    let directory: string;
    let pty: PtyPair;
    let link: Link;

    beforeEach(async () => {
      directory = await mkdtemp(join(tmpdir(), 'railminder-pty-'));
      pty = await openPtyPair(directory);
      link = serialLink({ path: pty.devicePath, baud: 115200 });
    });

    afterEach(async () => {
      await link.stop();
      await pty.unplug();
      await rm(directory, { recursive: true });
    });

    it(`notices ${ROUNDS} of ${ROUNDS} unplugs in silence, and reads again after each`, async () => {
      const heard = listenTo(link);
      await heard.until((h) => times(h, 'open') === 1);
      for (let round = 1; round <= ROUNDS; round += 1) {
        await pty.unplug();
        await heard.until((h) => times(h, 'lost') === round);
        await pty.replug();
        await heard.until((h) => times(h, 'back') === round);
        await pty.write(`round ${round};`);
        await heard.until((h) => h.text().includes(`round ${round};`));
      }
      expect(times(heard, 'lost')).toBe(ROUNDS);
    });

    it(`notices ${ROUNDS} of ${ROUNDS} unplugs under a flood of lines, and reads again after each`, async () => {
      const heard = listenTo(link);
      await heard.until((h) => times(h, 'open') === 1);
      for (let round = 1; round <= ROUNDS; round += 1) {
        heard.forget();
        const flood = floodUntil(() => times(heard, 'lost') === round);
        await heard.until((h) => h.text().includes('T1: 41.3 C'));
        await pty.unplug();
        await heard.until((h) => times(h, 'lost') === round);
        await flood;
        await pty.replug();
        await heard.until((h) => times(h, 'back') === round);
      }
      expect(times(heard, 'lost')).toBe(ROUNDS);
    });

    async function floodUntil(stop: () => boolean): Promise<void> {
      while (!stop()) await pty.write(FLOOD_BLOCK);
    }
  },
);
