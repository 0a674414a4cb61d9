import { access, constants, mkdtemp, readFile, rm, stat, statfs } from 'node:fs/promises';
import { createServer } from 'node:http';
import { userInfo } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { LOOPBACK } from '../serve/port.js';
import { PACKAGE_FOLDER } from '../version.js';
import { listPorts, type PortDescription } from '../../drivers/ports.js';
import type { FolderFacts, MachineFacts, PortFacts } from './machine-facts.js';

/** Looks the machine over. Opens no instrument, and leaves nothing behind. */
export async function lookAtMachine(recordings: string, port: number): Promise<MachineFacts> {
  const ports = await listPorts().catch(() => []);
  return {
    system: process.platform,
    node: process.version,
    user: userInfo().username,
    ports: await Promise.all(ports.map(portFacts)),
    recordings: await folderFacts(recordings),
    pagePort: { port, trouble: await listeningTrouble(port) },
    hasPage: await exists(fileURLToPath(new URL('dist/web/index.html', PACKAGE_FOLDER))),
    clock: { now: new Date(), isKept: await isClockKept() },
  };
}

async function portFacts({ path, kind, usb }: PortDescription): Promise<PortFacts> {
  const mayUse = await access(path, constants.R_OK | constants.W_OK).then(
    () => true,
    () => false,
  );
  return { path, kind, usb, mayUse, group: await groupOf(path) };
}

/** By POSIX, `/etc/group` has one group a line: name, password, number, members. */
async function groupOf(path: string): Promise<string | null> {
  try {
    const { gid } = await stat(path);
    const groups = await readFile('/etc/group', 'utf8');
    const line = groups.split('\n').find((one) => one.split(':')[2] === String(gid));
    return line?.split(':')[0] ?? null;
  } catch {
    return null;
  }
}

/** Tries to write in the folder, or where it would be made. */
async function folderFacts(path: string): Promise<FolderFacts> {
  const nearest = await nearestFolder(path);
  try {
    await rm(await mkdtemp(join(nearest, '.check-')), { recursive: true });
  } catch (error) {
    return { path, trouble: codeOf(error), freeBytes: null };
  }
  const freeBytes = await statfs(nearest).then(
    ({ bavail, bsize }) => bavail * bsize,
    () => null,
  );
  return { path, trouble: null, freeBytes };
}

async function nearestFolder(path: string): Promise<string> {
  const above = dirname(path);
  return above === path || (await exists(path)) ? path : nearestFolder(above);
}

async function exists(path: string): Promise<boolean> {
  return access(path).then(
    () => true,
    () => false,
  );
}

function listeningTrouble(port: number): Promise<string | null> {
  return new Promise((resolve) => {
    const server = createServer();
    server.once('error', (error) => resolve(codeOf(error)));
    server.listen({ port, host: LOOPBACK, exclusive: true }, () => server.close(() => resolve(null)));
  });
}

/** On Linux the service that keeps the time leaves this file once it has; elsewhere nothing tells. */
async function isClockKept(): Promise<boolean | null> {
  if (process.platform !== 'linux' || !(await exists('/run/systemd/timesync'))) return null;
  return exists('/run/systemd/timesync/synchronized');
}

function codeOf(error: unknown): string {
  return error instanceof Error && 'code' in error ? String(error.code) : String(error);
}
