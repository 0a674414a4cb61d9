import type { PageAddress } from './page-options.js';
import type { RunningServer } from './serve/server.js';
import { qrLines } from './terminal-qr.js';

export interface LinkSurroundings {
  readonly server: Pick<RunningServer, 'link'>;
  readonly page: PageAddress;
  /** The addresses under which others reach this machine, the likeliest first. */
  readonly addresses: readonly string[];
  /** Someone is looking: a QR code is drawn. */
  readonly isTerminal: boolean;
}

/**
 * What a person is told who opened the page to the network; nothing on the loopback address. Where nobody is looking
 * and the keys are in a file, they don't go into whatever keeps the output.
 */
export function linkLines({ server, page, addresses, isTerminal }: LinkSurroundings): string[] {
  if (page.keys === null) return [];
  const caution =
    page.certificate === null
      ? ['Without --cert and --key whoever else is on this network can read along and take the keys.']
      : [];
  if (!isTerminal && page.keyFile !== null) {
    return [
      `Open to the network; the links' keys are in ${page.keyFile}: ADDRESS/enter/KEY opens the page.`,
      ...caution,
    ];
  }
  const [first = page.host, ...others] = addresses;
  const more = others.length === 0 ? '' : ` (or, by the way you come, at ${others.join(', ')})`;
  return [
    `Open to the network${more}. Whoever has a link gets in until the session ends; give away the second one only.`,
    `  may do everything:  ${server.link('act', first)}`,
    `  only looks:         ${server.link('look', first)}`,
    ...caution,
    ...(isTerminal ? ['For your phone, the first link:', ...qrLines(server.link('act', first))] : []),
  ];
}
