import type { IncomingHttpHeaders } from 'node:http';

/** The names under which a browser on this machine reaches us. */
const OUR_NAMES = ['127.0.0.1', 'localhost', '[::1]'];
const HTTP_PORT = 80;

/**
 * Why a request isn't answered; null when it is. A name of somebody else's that points at this machine is refused,
 * so that no foreign page reaches us that way (DNS rebinding).
 */
export function foreignHost({ host }: IncomingHttpHeaders, port: number): string | null {
  const ours = OUR_NAMES.flatMap((name) => (port === HTTP_PORT ? [name, `${name}:80`] : [`${name}:${port}`]));
  if (host !== undefined && ours.includes(host.toLowerCase())) return null;
  return `This is not ${printable(host)}. Open http://127.0.0.1:${port}/ instead.`;
}

/**
 * Why a page may not join; null when it may. Only our own page may: browsers send Origin with every WebSocket
 * handshake (RFC 6455, section 4.1), and a page can't change it. A program that is no browser sends none or any it
 * likes, so that refusing a missing one would protect nobody.
 */
export function foreignOrigin({ origin, host }: IncomingHttpHeaders): string | null {
  if (origin === undefined || origin.toLowerCase() === `http://${host?.toLowerCase()}`) return null;
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
