import { dirname, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { PACKAGE_FOLDER } from './version.js';

const OURS = fileURLToPath(new URL('dist/', PACKAGE_FOLDER));

/**
 * Which of them what was thrown comes from: those whose file is in its stack, or else those with a file of whose folder
 * is. Where an error has no stack nobody can tell.
 * @param fileOf may throw where there is no file
 */
export function whoseStray<One>(
  problem: unknown,
  them: readonly One[],
  fileOf: (one: One) => string,
): readonly One[] {
  const files = stackFiles(problem);
  const withFile = them.flatMap((one) => {
    try {
      return [{ one, file: fileOf(one) }];
    } catch {
      return []; // it was deleted or is no file at all: nothing comes from it
    }
  });
  const exact = withFile.filter(({ file }) => files.includes(file));
  const found =
    exact.length > 0 ? exact : withFile.filter(({ file }) => files.some((each) => liesWith(each, file)));
  return found.map(({ one }) => one);
}

/** Beside the driver's file or below that, but neither in a package nor in this program. */
function liesWith(file: string, driver: string): boolean {
  const folder = dirname(driver) + sep;
  return (
    file.startsWith(folder) &&
    !file.slice(folder.length).split(sep).includes('node_modules') &&
    !file.startsWith(OURS)
  );
}

/** The files that a stack names, as `file:///…:3:5` from modules and `/…:3:5` from scripts. */
function stackFiles(problem: unknown): readonly string[] {
  const stack = problem instanceof Error ? (problem.stack ?? '') : '';
  return [...stack.matchAll(/(?:\(|at (?:async )?)([^()\n]+):\d+:\d+\)?$/gm)].flatMap(([, place = '']) => {
    if (!place.startsWith('file:')) return [place];
    try {
      return [fileURLToPath(place)];
    } catch {
      return [];
    }
  });
}

/** Waits for what is thrown where nobody calls: by a promise that nobody awaits, or a timer. */
export interface StrayWatch {
  /** Resolves with the first one that nobody takes. */
  readonly nobodys: Promise<unknown>;
  stop(): void;
}

/** @param take whether somebody is to blame, so that the program can go on */
export function watchStrays(take: (problem: unknown) => boolean): StrayWatch {
  let onStray: (problem: unknown) => void = () => undefined;
  const nobodys = new Promise<unknown>((resolve) => {
    onStray = (problem) => {
      try {
        if (!take(problem)) resolve(problem);
      } catch (another) {
        resolve(another); // telling it failed too: that is nobody's but ours
      }
    };
  });
  process.on('uncaughtException', onStray);
  process.on('unhandledRejection', onStray);
  return {
    nobodys,
    stop() {
      process.off('uncaughtException', onStray);
      process.off('unhandledRejection', onStray);
    },
  };
}
