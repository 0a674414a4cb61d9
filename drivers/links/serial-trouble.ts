import { openBy, openByWords } from './open-by.js';

const IN_USE = /lock port|resource (temporarily unavailable|busy)|EBUSY/i;

/** What the system says when a port doesn't open, and what a person can do about it. */
const TROUBLES: readonly { readonly says: RegExp; readonly inWords: (path: string) => string }[] = [
  {
    says: /permission denied|access denied|EACCES|EPERM/i,
    inWords: (path) =>
      `no permission to open ${path}; on Linux add yourself to the group dialout and log in again, ` +
      'on Windows close the program that has it open',
  },
  {
    says: /no such file|file not found|ENOENT/i,
    inWords: (path) => `${path} is not there; plug the device in, or check the path`,
  },
  {
    says: /no such device|ENXIO|ENODEV/i,
    inWords: (path) => `${path} has no device behind it; plug the device in, or check the path`,
  },
  {
    says: /not a tty|inappropriate ioctl|is a directory|ENOTTY|EISDIR/i,
    inWords: (path) => `${path} is not a serial port; check the path`,
  },
  {
    says: /too many open files|EMFILE|ENFILE/i,
    inWords: (path) => `${path} does not open, for too many files are open; end other programs`,
  },
  {
    says: /baud/i,
    inWords: (path) =>
      `${path} does not take this baud rate; set the one that the device uses, often 9600 or 115200`,
  },
];

/** An error with the same cause in plain words. What isn't known is passed on with the system's own words. */
export async function serialTroubleInWords(path: string, cause: Error): Promise<Error> {
  if (IN_USE.test(cause.message)) {
    const holders = await openBy(path);
    const who = holders.length === 0 ? 'another program' : openByWords(holders);
    return new Error(`${path} is in use by ${who}; close what else reads it`, { cause });
  }
  const known = TROUBLES.find(({ says }) => says.test(cause.message));
  const words =
    known?.inWords(path) ??
    `${path} does not open (${cause.message}); unplug the device and plug it in again`;
  return new Error(words, { cause });
}
