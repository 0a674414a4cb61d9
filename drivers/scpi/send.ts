import type { FaultTeller } from '../fault-teller.js';
import type { Link } from '../link.js';
import { LinkNotOpen } from '../links/link-not-open.js';

/** Sends one command a call; what can't be written is counted. */
export interface CommandSender {
  (command: string): void;
  /**
   * From now on commands end with CR LF where they ended with LF, and the other way round. LF is the standard's end
   * (IEEE 488.2, 7.5) and CR a blank before it; some instruments on serial lines wait for the CR (common practice).
   */
  changeEnd(): void;
}

export function commandSender(link: Link, faults: FaultTeller): CommandSender {
  let end: '\n' | '\r\n' = '\n';
  const send = (command: string): void => {
    link.write(Buffer.from(command + end)).catch((problem: unknown) => {
      if (problem instanceof LinkNotOpen) return; // the link's state says so already
      faults.count(
        'write-failed',
        `${command}: ${problem instanceof Error ? problem.message : String(problem)}`,
      );
    });
  };
  return Object.assign(send, { changeEnd: () => void (end = end === '\n' ? '\r\n' : '\n') });
}
