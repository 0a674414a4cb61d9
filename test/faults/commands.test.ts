import { execFile } from 'node:child_process';
import { copyFile, mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it, onTestFinished } from 'vitest';
import { MAIN } from '../daemon/run-command.js';
import { FAILING_SYSTEM, type Failing } from './failing.js';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const EXAMPLES = join(ROOT, 'daemon/design/examples/signal-cabin');

interface Case {
  readonly args: readonly string[];
  readonly failing: Failing;
  /** What is said: the thing, what happened to it, and the cure. */
  readonly says: RegExp;
  /** Exit code; 2 unless said. */
  readonly code?: number;
}

const LONGEST_MS = 120_000;
const WATCH = ['watch', 'cabin.design.yaml', '--port', '0'];

const CASES: readonly Case[] = [
  {
    args: ['predict', 'cabin.design.yaml'],
    failing: { call: 'open', path: 'cabin.design', code: 'EACCES' },
    says: /cabin\.design\.yaml: you may not read it; change its permissions; name a \*\.design\.yaml file/,
  },
  {
    args: ['predict', 'cabin.design.yaml'],
    failing: { call: 'read', path: 'cabin.design', code: 'EIO' },
    says: /cabin\.design\.yaml: the disk reports an error; check its cable/,
  },
  {
    args: ['predict', 'cabin.design.yaml', '--faults'],
    failing: { call: 'thread', path: 'fault-worker', code: 'ERR_WORKER_INIT_FAILED' },
    says: /--faults: what each fault reads can't be worked out \(ERR_WORKER.*\); end other programs/,
  },
  {
    args: [...WATCH, '--bench', 'cabin.bench.yaml'],
    failing: { call: 'open', path: 'cabin.bench', code: 'EMFILE' },
    says: /cabin\.bench\.yaml: too many files are open; end other programs/,
  },
  {
    args: [...WATCH, '--open-to-network', '--key-file', 'keys'],
    failing: { call: 'writeFile', path: 'keys', code: 'ENOSPC' },
    says: /--key-file keys: it can't be made \(ENOSPC\); name a file in a folder of yours/,
  },
  {
    args: [...WATCH, '--open-to-network', '--key-file', 'keys'],
    failing: { call: 'open', path: 'keys', code: 'EACCES' },
    says: /--key-file keys: it can't be read \(EACCES\); name a file of your own/,
  },
  {
    args: [...WATCH, '--cert', 'a.pem', '--key', 'b.pem'],
    failing: { call: 'readFile', path: 'a.pem', code: 'EIO' },
    says: /--cert a\.pem: it can't be read \(EIO\); name a PEM file/,
  },
  {
    args: ['design', 'new', 'fresh.design.yaml'],
    failing: { call: 'writeFile', path: 'fresh.design', code: 'ENOSPC' },
    says: /fresh\.design\.yaml: the disk is full; name a file in a folder that you may write to/,
  },
  {
    args: ['export', 'a.ndjson', '-o', 'out.csv'],
    failing: { call: 'open', path: 'out.csv', code: 'EACCES' },
    says: /-o out\.csv: it can't be written \(EACCES\); name another file/,
  },
  {
    args: ['export', 'a.ndjson', '-o', 'out.csv'],
    failing: { call: 'write', path: 'out.csv', code: 'ENOSPC', after: 1 },
    says: /-o out\.csv: it can't be written \(ENOSPC\); name another file/,
  },
  {
    args: ['export', 'a.ndjson', '-o', 'out.csv'],
    failing: { call: 'rename', path: 'out.csv', code: 'EPERM' },
    says: /-o out\.csv: it can't be written \(EPERM\); name another file/,
  },
  {
    args: ['export', 'a.ndjson', '-o', 'out.csv'],
    failing: { call: 'read', path: 'a.ndjson', code: 'EIO', after: 1 },
    says: /a\.ndjson: the disk reports an error; check its cable; name a recording/,
  },
  {
    args: ['report', 'a.ndjson', '-o', 'out.html'],
    failing: { call: 'write', path: 'out.html', code: 'EIO' },
    says: /-o out\.html: it can't be written \(EIO\); name another file/,
  },
  {
    args: ['replay', 'a.ndjson', '--fast'],
    failing: { call: 'read', path: 'a.ndjson', code: 'EIO', after: 1 },
    says: /a\.ndjson: the disk reports an error; check its cable/,
  },
  {
    args: ['compare', 'a.ndjson', 'a.ndjson'],
    failing: { call: 'open', path: 'a.ndjson', code: 'EACCES' },
    says: /a\.ndjson: you may not read it; change its permissions; name a recording/,
  },
  {
    args: ['recordings', 'pack', 'a.ndjson'],
    failing: { call: 'write', path: '.gz', code: 'ENOSPC' },
    says: /a\.ndjson: it can't be packed: a\.ndjson\.gz: the disk is full; delete something there/,
  },
  {
    args: ['recordings', 'pack', 'a.ndjson'],
    failing: { call: 'read', path: 'a.ndjson', code: 'EIO' },
    says: /a\.ndjson: the disk reports an error; check its cable; name a recording/,
  },
  {
    args: ['recordings', 'repair', 'a.ndjson'],
    failing: { call: 'write', path: 'repaired', code: 'ENOSPC' },
    says: /a-repaired\.ndjson: it can't be written \(ENOSPC\)/,
  },
  {
    args: ['recordings', '.'],
    failing: { call: 'readdir', path: '.', code: 'EACCES' },
    says: /\.: you may not read it; change its permissions; name the one with the recordings/,
  },
  {
    args: ['recordings', '.'],
    failing: { call: 'stat', path: 'a.ndjson', code: 'ENOENT' },
    says: /a\.ndjson +2026-11-25 18:40 .* intact/,
    code: 0,
  },
  {
    args: ['recordings', '.'],
    failing: { call: 'open', path: 'a.ndjson', code: 'EMFILE' },
    says: /no recording +.*a\.ndjson: too many files are open; end other programs/,
    code: 1,
  },
  {
    args: ['simulate', 'cabin.design.yaml', '--tcp'],
    failing: { call: 'mkdtemp', path: 'railminder-simulated', code: 'EACCES' },
    says: /writing there is not allowed; change the permissions of the folder; or name another folder .* TMPDIR/,
  },
  {
    args: ['simulate', 'cabin.design.yaml', '--tcp'],
    failing: { call: 'writeFile', path: 'simulated.bench', code: 'ENOSPC' },
    says: /simulated\.bench\.yaml: the disk is full/,
  },
  {
    args: ['note', 'all well', '--photo', 'a.jpg'],
    failing: { call: 'readFile', path: 'a.jpg', code: 'EIO' },
    says: /--photo a\.jpg: it can't be read \(EIO\); name a JPEG or PNG file/,
  },
  {
    args: ['check', 'cabin.design.yaml'],
    failing: { call: 'mkdtemp', path: '/', code: 'EROFS' },
    says: /recordings can't be written \(EROFS\)\n +Make the folder/,
    code: 1,
  },
  {
    args: ['check', 'cabin.design.yaml'],
    failing: { call: 'statfs', path: '/', code: 'EIO' },
    says: /recordings can be written/,
    code: 0,
  },
];

async function run({ args, failing }: Case): Promise<{ code: number; said: string; left: string[] }> {
  const folder = await mkdtemp(join(tmpdir(), 'railminder-faults-'));
  onTestFinished(() => rm(folder, { recursive: true, force: true }));
  const given = { 'cabin.design.yaml': EXAMPLES, 'cabin.bench.yaml': EXAMPLES };
  for (const [name, from] of Object.entries(given))
    await copyFile(join(from, `signal-${name}`), join(folder, name));
  await copyFile(join(ROOT, 'recordings/diode-open.ndjson'), join(folder, 'a.ndjson'));
  const env = { ...process.env, TMPDIR: folder, FAILING: JSON.stringify(failing) };
  const { code, said } = await new Promise<{ code: number; said: string }>((resolve) => {
    const running = execFile(
      process.execPath,
      ['--import', FAILING_SYSTEM, MAIN, ...args],
      { cwd: folder, env, timeout: LONGEST_MS / 2 },
      (error, stdout, stderr) =>
        resolve({ code: error === null ? 0 : Number(error.code), said: stdout + stderr }),
    );
    running.stdin?.end('\n'.repeat(60));
  });
  const left = (await readdir(folder)).filter((name) => !Object.hasOwn(given, name) && name !== 'a.ndjson');
  return { code, said, left };
}

describe('when the system fails', { timeout: LONGEST_MS }, () => {
  it.each(
    CASES.map(
      (one) =>
        [
          `${one.args.join(' ')} with ${one.failing.code} from ${one.failing.call} ${one.failing.path}`,
          one,
        ] as const,
    ),
  )('%s says what, where and the cure, and leaves nothing half-written', async (_, one) => {
    const { code, said, left } = await run(one);
    expect(said).toMatch(one.says);
    expect(said).not.toMatch(/^ +at /m);
    expect(code).toBe(one.code ?? 2);
    expect(left).toEqual([]);
  });
});
