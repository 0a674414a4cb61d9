import { readdir, readFile, readlink, realpath } from 'node:fs/promises';

/** A program that has a file or a device open. */
export interface OpenBy {
  readonly process: number;
  /** As the system calls it: short, printable. */
  readonly name: string;
}

/**
 * Which other programs of this machine have a file or device open, as far as whoever runs this may see it: Linux tells
 * by the links in /proc/PID/fd (proc(5)), other systems don't. Never rejects.
 */
export async function openBy(path: string): Promise<readonly OpenBy[]> {
  const target = await realpath(path).catch(() => null);
  if (target === null) return [];
  const found: OpenBy[] = [];
  for (const entry of await readdir('/proc').catch(() => [])) {
    const process = Number(entry);
    if (!Number.isInteger(process) || process === globalThis.process.pid) continue;
    if (await hasOpen(process, target)) found.push({ process, name: await nameOf(process) });
  }
  return found;
}

/** `meter-log (process 1234) and process 1240` */
export function openByWords(holders: readonly OpenBy[]): string {
  return holders
    .map(({ process, name }) => (name === '' ? `process ${process}` : `${name} (process ${process})`))
    .join(' and ');
}

async function hasOpen(process: number, target: string): Promise<boolean> {
  const folder = `/proc/${process}/fd`;
  const numbers = await readdir(folder).catch(() => []);
  const targets = await Promise.all(numbers.map((one) => readlink(`${folder}/${one}`).catch(() => null)));
  return targets.includes(target);
}

async function nameOf(process: number): Promise<string> {
  const name = await readFile(`/proc/${process}/comm`, 'utf8').catch(() => '');
  return name.replace(/[^\p{L}\d ._:-]/gu, '').trim();
}
