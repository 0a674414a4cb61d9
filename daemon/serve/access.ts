import type { IncomingHttpHeaders, IncomingMessage } from 'node:http';
import type { AccessKeys } from './keys.js';

/** How the page is reached. */
export interface Door {
  readonly scheme: 'http' | 'https';
  /** Names of this machine, in small letters, beside its addresses. Nobody else can own one of them. */
  readonly names: readonly string[];
  /** Null: on the loopback address nobody is asked for a key. */
  readonly keys: AccessKeys | null;
}

/** The page on this machine alone. */
export const LOOPBACK_DOOR: Door = { scheme: 'http', names: [], keys: null };

/** The names under which a browser on this machine reaches us. */
const LOOPBACK_NAMES = ['127.0.0.1', 'localhost', '[::1]'];
/** What browsers leave out (RFC 9110, sections 4.2.1 and 4.2.2). */
const USUAL_PORTS = { http: 80, https: 443 };
const MAPPED_IPV4 = /^::ffff:(?=\d+\.)/;

/** What is looked at of a request. */
export type Asking = Pick<IncomingMessage, 'headers'> & {
  readonly socket: Pick<IncomingMessage['socket'], 'localAddress' | 'localPort'>;
};

/**
 * Why a request isn't answered; null when it is. A name of somebody else's that points at this machine is refused,
 * so that no foreign page reaches us that way (DNS rebinding): only loopback names, the address that the connection
 * really came in on, and this machine's own names are ours.
 */
export function foreignHost({ headers: { host }, socket }: Asking, { scheme, names }: Door): string | null {
  const port = socket.localPort ?? 0;
  const here = inAddress((socket.localAddress ?? '127.0.0.1').replace(MAPPED_IPV4, ''));
  const ours = [...LOOPBACK_NAMES, here, ...names].flatMap((name) =>
    port === USUAL_PORTS[scheme] ? [name, `${name}:${port}`] : [`${name}:${port}`],
  );
  if (host !== undefined && ours.includes(host.toLowerCase())) return null;
  return `This is not ${printable(host)}. Open ${scheme}://${here}:${port}/ instead.`;
}

/** An IP address as it stands in a web address (RFC 3986, section 3.2.2). */
export function inAddress(address: string): string {
  return address.includes(':') ? `[${address}]` : address;
}

/**
 * Why a page may not join; null when it may. Only our own page may: browsers send Origin with every WebSocket
 * handshake (RFC 6455, section 4.1), and a page can't change it. A program that is no browser sends none or any it
 * likes, so that refusing a missing one would protect nobody.
 */
export function foreignOrigin({ origin, host }: IncomingHttpHeaders, { scheme }: Door): string | null {
  if (origin === undefined || origin.toLowerCase() === `${scheme}://${host?.toLowerCase()}`) return null;
  return `The page of ${printable(origin)} may not join; open this program's own page.`;
}

/**
 * Why a request isn't answered that makes us read much; null when it is. Browsers say who made a request (Fetch
 * Metadata, W3C), and a page can't change it: only our own page and a person's own typing may.
 */
export function foreignAsker(headers: IncomingHttpHeaders): string | null {
  const site = headers['sec-fetch-site'];
  if (site === undefined || site === 'same-origin' || site === 'none') return null;
  return "Only this program's own page may ask for recordings; open them from there.";
}

function printable(text: string | undefined): string {
  return text === undefined ? 'named in the request' : text.slice(0, 100).replace(/[^\x21-\x7e]/g, '?');
}
