import { readFileSync } from 'node:fs';

/** Whether this program is the one that its terminal's keys are for; so it is said to be where the system doesn't tell. */
export function isInForeground(): boolean {
  try {
    const stat = readFileSync('/proc/self/stat', 'utf8');
    // proc(5), behind the name, which may be anything: state, parent, group, session, terminal, group in the foreground.
    const [, , group, , , foreground] = stat.slice(stat.lastIndexOf(') ') + 2).split(' ');
    return foreground === '-1' || group === foreground;
  } catch {
    return true;
  }
}
