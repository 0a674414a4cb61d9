import { mkdir, mkdtemp, readFile, rm, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import type { Link } from '../../../drivers/link.js';
import { listUsbtmc, notOpenInWords, usbtmcLink } from '../../../drivers/links/usbtmc.js';
import type { Outlet } from '../../../drivers/simulated/outlet.js';
import { openPty } from '../../../drivers/simulated/pty.js';
import { listenTo, times } from './heard.js';

/**
 * No USB instrument is at hand here. A pseudo-terminal stands for the device file: reads of it block for as long as
 * nothing comes, and it goes away with EIO where a USB device gives ENODEV.
 */
describe.skipIf(process.platform !== 'linux')(
  'usbtmcLink, with a pseudo-terminal for the device file',
  () => {
    let folder: string;
    let childScript: string;
    const cleanups: (() => Promise<unknown>)[] = [];

    beforeAll(async () => {
      folder = await mkdtemp(join(tmpdir(), 'railminder-usbtmc-'));
      childScript = join(folder, 'child.mjs');
      await build({
        configFile: false,
        logLevel: 'silent',
        build: {
          ssr: fileURLToPath(new URL('../../../drivers/links/usbtmc-child.ts', import.meta.url)),
          outDir: folder,
          emptyOutDir: false,
          rollupOptions: { output: { entryFileNames: 'child.mjs' } },
        },
      });
    });

    afterEach(async () => {
      for (const cleanup of cleanups.splice(0).reverse()) await cleanup();
    });

    afterAll(() => rm(folder, { recursive: true, force: true }));

    async function device(
      name: string,
      answers: Readonly<Record<string, string>> = {},
    ): Promise<{ path: string; outlet: Outlet }> {
      const path = join(folder, name);
      const outlet = await openPty(path, 'python3', (bytes) => {
        for (const question of Buffer.from(bytes).toString().split('\n')) {
          const answer = answers[question];
          if (answer !== undefined) outlet.send(Buffer.from(answer));
        }
      });
      cleanups.push(() => outlet.unplug());
      return { path, outlet };
    }

    function linkTo(path: string): Link {
      const link = usbtmcLink({ path, childScript });
      cleanups.push(() => link.stop());
      return link;
    }

    it('opens, asks, and says when it is closed', async () => {
      const { path } = await device('usbtmc0', { '*IDN?': 'SIGNAL CABIN,METER,0,1\n', 'READ?': '12.06\n' });
      const link = linkTo(path);
      const heard = listenTo(link);
      await heard.until((h) => times(h, 'open') === 1);
      await link.write(Buffer.from('*IDN?\n'));
      await heard.until((h) => h.text().endsWith('1\n'));
      await link.write(Buffer.from('READ?\n'));
      await heard.until((h) => h.text().endsWith('12.06\n'));
      await link.stop();
      await link.stop();
      expect(heard.states).toEqual([{ kind: 'open', path }, { kind: 'closed' }]);
      await expect(link.write(Buffer.from('READ?\n'))).rejects.toMatchObject({ code: 'link-not-open' });
    });

    it('notices that the device is pulled out while it waits for an answer, and opens it again', async () => {
      const { path, outlet } = await device('usbtmc1');
      const link = linkTo(path);
      const heard = listenTo(link);
      await heard.until((h) => times(h, 'open') === 1);
      await link.write(Buffer.from('READ?\n'));
      await outlet.unplug();
      await heard.until((h) => times(h, 'lost') === 1);
      await heard.until((h) => times(h, 'waiting') === 1);
      await outlet.plugIn();
      await heard.until((h) => times(h, 'back') === 1);
      const [, lost, waiting] = heard.states;
      expect(lost).toMatchObject({
        // ENOENT when the read began only after the plug was out: a terminal that has hung up gives it no bytes.
        why: expect.stringMatching(/went away \((EIO|ENOENT)\); check its cable/) as string,
      });
      expect(waiting).toMatchObject({
        why: expect.stringMatching(/is not there; switch the instrument on/) as string,
      });
    });

    it('notices that a device is gone whose file still gives reads without bytes', async () => {
      const path = join(folder, 'usbtmc3');
      await writeFile(path, '');
      const link = linkTo(path);
      const heard = listenTo(link);
      await heard.until((h) => times(h, 'open') === 1);
      await link.write(Buffer.from('READ?\n'));
      await rm(path);
      await heard.until((h) => times(h, 'lost') === 1);
      expect(heard.states[1]).toMatchObject({
        why: expect.stringMatching(/went away \(ENOENT\); check its cable/) as string,
      });
    });

    it('leaves the rest of the program alone with eight devices that do not answer, and lets go of each', async () => {
      const links: Link[] = [];
      for (let count = 0; count < 8; count += 1) {
        const { path } = await device(`silent${count}`);
        const link = linkTo(path);
        const heard = listenTo(link);
        await heard.until((h) => times(h, 'open') === 1);
        await link.write(Buffer.from('READ?\n'));
        links.push(link);
      }
      // Four reads that block would hold every thread that this process has for files.
      expect((await readFile(childScript, 'utf8')).length).toBeGreaterThan(100);
      await Promise.all(links.map((link) => link.stop()));
    });

    it('does not open what another program has open, and opens it once that lets go', async () => {
      const { path } = await device('usbtmc2');
      const first = linkTo(path);
      await listenTo(first).until((h) => times(h, 'open') === 1);
      const heard = listenTo(linkTo(path));
      await heard.until((h) => times(h, 'waiting') === 1);
      expect(heard.states[0]).toMatchObject({
        why: expect.stringMatching(/in use by .* \(process \d+\); close/) as string,
      });
      await first.stop();
      await heard.until((h) => times(h, 'open') === 1);
    });

    it('waits for a device that is not there, and for a child that does not start', async () => {
      const missing = listenTo(linkTo(join(folder, 'nothing')));
      await missing.until((h) => times(h, 'waiting') === 1);
      const link = usbtmcLink({ path: '/dev/null', childScript: join(folder, 'no-such-script.mjs') });
      cleanups.push(() => link.stop());
      const heard = listenTo(link);
      await heard.until((h) => times(h, 'waiting') === 1);
      expect(heard.states[0]).toMatchObject({
        why: expect.stringMatching(/has ended; it is started again/) as string,
      });
    });
  },
);

describe('listUsbtmc', () => {
  it('finds what the system says of each device, and nothing where there are none', async () => {
    const root = await mkdtemp(join(tmpdir(), 'railminder-sysfs-'));
    const interfaceFolder = join(root, 'usb1', '1-2', '1-2:1.0');
    await mkdir(interfaceFolder, { recursive: true });
    await writeFile(join(root, 'usb1', '1-2', 'idVendor'), '1a2b\n');
    await writeFile(join(root, 'usb1', '1-2', 'idProduct'), '3c4d\n');
    await mkdir(join(root, 'class', 'usbtmc3'), { recursive: true });
    await symlink(interfaceFolder, join(root, 'class', 'usbtmc3', 'device'));
    await mkdir(join(root, 'class', 'hiddev0'));
    expect(await listUsbtmc(join(root, 'class'))).toEqual([
      { path: '/dev/usbtmc3', vendorId: '1a2b', productId: '3c4d' },
    ]);
    expect(await listUsbtmc(join(root, 'nothing'))).toEqual([]);
    await rm(root, { recursive: true });
  });
});

describe('a device file that does not open', () => {
  it('is told in plain words', () => {
    const told = (code: string): string => notOpenInWords('/dev/usbtmc0', code, 'x');
    expect(told('EACCES')).toMatch(/no permission to open \/dev\/usbtmc0; .*udev rule/);
    expect(told('ENODEV')).toMatch(/no instrument behind it/);
    expect(told('EWHATEVER')).toMatch(/does not open \(x\)/);
  });

  it('needs a path or an id', () => {
    expect(() => usbtmcLink({})).toThrow(/neither path nor usb/);
  });
});
