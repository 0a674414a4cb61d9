import type { FolderFacts, MachineFacts, PortFacts } from './machine-facts.js';

/** One thing that was looked at. */
export interface Finding {
  readonly subject: string;
  /** `unknown`: the system doesn't tell. */
  readonly state: 'fine' | 'mend' | 'unknown';
  readonly words: string;
  /** What to do; null when nothing is. */
  readonly cure: string | null;
}

/** What a recording of eight channels at ten readings a second takes, bytes an hour (see the recordings bench). */
const BYTES_AN_HOUR = 8 * 10 * 3600 * 12;
const LEAST_HOURS = 24;
const OLDEST_NODE = [20, 19] as const;
/** A clock before this was never set. */
const NEWER_THAN = Date.UTC(2026, 0, 1);

/** What is fine on this machine, and what to mend and how, before a session counts on it. */
export function findingsOf(facts: MachineFacts): readonly Finding[] {
  return [
    nodeFinding(facts.node),
    ...portFindings(facts),
    folderFinding(facts.recordings),
    clockFinding(facts),
    pagePortFinding(facts.pagePort),
    facts.hasPage
      ? fine('page', 'the page is built')
      : mend('page', 'the page is not built', 'Run npm run build in its folder.'),
    {
      subject: 'voice',
      state: 'unknown',
      words: 'spoken readings come from the browser that shows the page',
      cure: 'Open the page there and press the test of sound and voice.',
    },
    {
      subject: 'sleep',
      state: 'unknown',
      words: 'a machine that sleeps watches nothing',
      cure: 'Switch off its sleep on idle and on a closed lid, and plug it in, before a soak.',
    },
  ];
}

function nodeFinding(version: string): Finding {
  const [major = 0, minor = 0] = version.replace(/^v/, '').split('.').map(Number);
  const isOldest = major > OLDEST_NODE[0] || (major === OLDEST_NODE[0] && minor >= OLDEST_NODE[1]);
  return isOldest
    ? fine('node', `Node ${version}`)
    : mend('node', `Node ${version} is too old`, `Install Node ${OLDEST_NODE.join('.')} or newer.`);
}

function portFindings({ ports, system, user }: MachineFacts): Finding[] {
  if (ports.length === 0) {
    return [
      {
        subject: 'instruments',
        state: 'unknown',
        words: 'no serial port and no USB instrument is plugged in',
        cure: 'Plug one in and check again, or read a meter by hand.',
      },
    ];
  }
  return ports.map((port) =>
    port.mayUse
      ? fine(port.path, 'may be read and written')
      : mend(port.path, `${user} may not read and write it`, portCure(port, system, user)),
  );
}

/** Common practice on Linux: the group that owns the device, or a rule of udev for it. */
function portCure({ kind, group, usb, path }: PortFacts, system: NodeJS.Platform, user: string): string {
  if (system !== 'linux') return 'Close the other program that has it, or ask who looks after this machine.';
  if (kind === 'serial' && group !== null && group !== 'root') {
    return `Run sudo usermod -a -G ${group} ${user}, then log out and in again.`;
  }
  const [vendor, product] = usb?.split(':') ?? [];
  const which =
    vendor === undefined || product === undefined
      ? `KERNEL=="${path.replace('/dev/', '')}"`
      : `ATTRS{idVendor}=="${vendor}", ATTRS{idProduct}=="${product}"`;
  const subsystem = kind === 'usbtmc' ? 'usbmisc' : 'tty';
  return `Write SUBSYSTEM=="${subsystem}", ${which}, GROUP="plugdev", MODE="0660" into /etc/udev/rules.d/70-bench.rules, run sudo udevadm control --reload, sudo usermod -a -G plugdev ${user}, plug it in anew, and log out and in again.`;
}

function folderFinding({ path, trouble, freeBytes }: FolderFacts): Finding {
  const subject = 'recordings';
  if (trouble !== null) {
    const cure = 'Make the folder, or name another one with --recordings.';
    return mend(subject, `${path} can't be written (${trouble})`, cure);
  }
  if (freeBytes === null) return { subject, state: 'unknown', words: `${path} can be written`, cure: null };
  const hours = freeBytes / BYTES_AN_HOUR;
  const free = `${(freeBytes / 1e9).toFixed(1)} GB free, ${hoursWords(hours)} of eight channels at ten readings a second`;
  return hours >= LEAST_HOURS
    ? fine(subject, `${path}: ${free}`)
    : mend(
        subject,
        `${path}: only ${free}`,
        'Delete something there, or name another disk with --recordings.',
      );
}

function hoursWords(hours: number): string {
  if (hours >= 24 * 365) return 'years';
  return hours >= 48 ? `${Math.floor(hours / 24)} days` : `${Math.floor(hours)} hours`;
}

function clockFinding({ clock: { now, isKept }, system }: MachineFacts): Finding {
  const subject = 'clock';
  const cure = 'Set the date and time: a job file without them proves little.';
  if (now.getTime() < NEWER_THAN) return mend(subject, `it says ${now.toISOString()}`, cure);
  if (isKept === true) return fine(subject, `${now.toISOString()}, kept right over the network`);
  if (isKept === null) {
    return { subject, state: 'unknown', words: now.toISOString(), cure: 'Compare it with your watch.' };
  }
  const how = system === 'linux' ? 'sudo timedatectl set-ntp true keeps it right' : cure;
  return mend(subject, `${now.toISOString()}, not kept right over the network`, `${how}.`.replace('..', '.'));
}

function pagePortFinding({ port, trouble }: MachineFacts['pagePort']): Finding {
  if (trouble === null) return fine('page port', `port ${port} is free`);
  const inUse = trouble === 'EADDRINUSE';
  return mend(
    'page port',
    inUse ? `port ${port} is in use, perhaps by another session` : `port ${port} can't be used (${trouble})`,
    'The next free one is taken by itself; --port names another.',
  );
}

function fine(subject: string, words: string): Finding {
  return { subject, state: 'fine', words, cure: null };
}

function mend(subject: string, words: string, cure: string): Finding {
  return { subject, state: 'mend', words, cure };
}
