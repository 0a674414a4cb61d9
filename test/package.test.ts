import { execFileSync, spawn } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';

const ROOT = fileURLToPath(new URL('..', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'railminder-package-'));

afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Packs the built checkout as it would be published, and unpacks it elsewhere. */
function unpacked(): string {
  execFileSync('npm', ['pack', '--ignore-scripts', '--pack-destination', folder], {
    cwd: ROOT,
    stdio: 'pipe',
  });
  const archive = readdirSync(folder).find((file) => file.endsWith('.tgz')) ?? 'none';
  execFileSync('tar', ['-xzf', archive], { cwd: folder });
  symlinkSync(join(ROOT, 'node_modules'), join(folder, 'package', 'node_modules'));
  return join(folder, 'package');
}

describe('the packed package', () => {
  it('runs with its built page inside, and holds no sources or tests', async () => {
    const home = unpacked();
    expect(readdirSync(home).sort()).toEqual(
      ['LICENSE', 'README.md', 'daemon', 'dist', 'node_modules', 'package.json', 'recordings'].sort(),
    );
    const demo = spawn(process.execPath, [join(home, 'dist/daemon/main.js'), '--port', '0'], {
      stdio: 'pipe',
    });
    try {
      const address = await new Promise<string>((resolve) => {
        demo.stdout.on('data', (text: Buffer) => {
          const found = /http:\S+/.exec(text.toString());
          if (found !== null) resolve(found[0]);
        });
      });
      const page = await fetch(address);
      expect(page.status).toBe(200);
      expect(await page.text()).toContain('<rm-app');
    } finally {
      demo.kill('SIGINT');
      await new Promise((resolve) => demo.once('close', resolve));
    }
  });
});
