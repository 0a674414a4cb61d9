import { createRequire } from 'node:module';
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { z } from 'zod';
import type { OutsideDrivers } from './channels.js';
import type { Bench } from './design/bench.js';
import { FileProblems, problemsAt, shown, type Finding } from './design/file-problems.js';
import { readYaml } from './design/yaml-text.js';
import type { Written } from './files.js';
import type { Driver } from '../drivers/driver.js';
import { DRIVERS } from '../drivers/registry.js';

const method = z.custom((value) => typeof value === 'function', { error: 'a function' });

/** What a driver from outside must have: `drivers/driver.ts` says what each of it does. */
const driverShape = z.object({
  name: z.string().min(1).max(60),
  reads: z.string().min(1).max(200),
  channelsOf: method,
  checkOptions: method,
  intervalMs: method,
  start: method,
});

/**
 * Loads the drivers that a bench file names by a path (`./my-meter.mjs`, from the file's own folder) or by the name of
 * an installed package. Loading one runs its program, so nothing is loaded unless they are trusted.
 * @throws {FileProblems} for a path that isn't trusted, and for one that can't be loaded or is no driver.
 */
export async function loadOutsideDrivers(
  { file, text, value }: Written<Bench>,
  isTrusted: boolean,
): Promise<OutsideDrivers> {
  const findings: Finding[] = [];
  const loaded = new Map<string, Driver>();
  for (const [instrument, { driver: named }] of Object.entries(value.instruments)) {
    if (Object.hasOwn(DRIVERS, named) || loaded.has(named)) continue;
    // A word that is no path may be a slip of the finger: without trust the list of drivers is the better answer.
    if (!isTrusted && !isPath(named)) continue;
    const found = isTrusted ? await load(named, file) : NOT_TRUSTED;
    if (typeof found !== 'string') loaded.set(named, found);
    else {
      const sentence = `found ${shown(named)}; ${found}`;
      const path = ['instruments', instrument, 'driver'];
      findings.push({ path, found: shown(named), allowed: Object.keys(DRIVERS).join(', '), sentence });
    }
  }
  if (findings.length === 0) return loaded;
  const yaml = readYaml(text, file);
  throw new FileProblems(problemsAt(file, findings, (path) => yaml.lineOf(path)));
}

const NOT_TRUSTED =
  'that is a program from outside and would run with all your rights; if you trust it, add --trust-drivers';

function isPath(named: string): boolean {
  return /^\.{0,2}[/\\]|^[A-Za-z]:[/\\]/.test(named);
}

/**
 * The file of a driver that the bench file names by a path or a package.
 * @throws {Error} when there is none.
 */
export function outsidePlace(named: string, benchFile: string): string {
  return createRequire(pathToFileURL(resolve(benchFile))).resolve(named);
}

/** The driver, or what is wrong and the cure. */
async function load(named: string, benchFile: string): Promise<Driver | string> {
  try {
    const place = outsidePlace(named, benchFile);
    const module = (await import(pathToFileURL(place).href)) as Record<string, unknown>;
    const exported = module['default'];
    const checked = driverShape.safeParse(exported);
    if (checked.success) return exported as Driver;
    const [issue] = checked.error.issues;
    return `its default export is no driver: ${issue?.path.join('.') ?? ''} ${issue?.message ?? ''}; see "Add a driver" in DEVELOPERS.md`;
  } catch (problem) {
    const text = problem instanceof Error ? (problem.message.split('\n')[0] ?? '') : String(problem);
    return `it can't be loaded (${text}); check the path, or install the package; our own drivers are ${Object.keys(DRIVERS).join(', ')}`;
  }
}
