import type { FaultTeller } from '../fault-teller.js';
import type { Link } from '../link.js';
import { LinkNotOpen } from '../links/link-not-open.js';

/** Sends one command a call; what can't be written is counted. */
export function commandSender(link: Link, faults: FaultTeller): (command: string) => void {
  return (command) => {
    link.write(Buffer.from(`${command}\n`)).catch((problem: unknown) => {
      if (problem instanceof LinkNotOpen) return; // the link's state says so already
      faults.count(
        'write-failed',
        `${command}: ${problem instanceof Error ? problem.message : String(problem)}`,
      );
    });
  };
}
