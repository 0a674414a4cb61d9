import type { IncomingMessage, ServerResponse } from 'node:http';
import type { Door } from './access.js';
import { HEADERS, sendText } from './headers.js';
import type { AccessKeys, Role } from './keys.js';

/** A link is this and its key: the key leaves the address line at once and goes on as a cookie. */
export const ENTER_PATH = '/enter/';

export const NO_KEY =
  'This page is open to those with its link. Open the link, or the QR code, that the session printed when it began.';
const WRONG_KEY =
  'The key of this link is not right, or of a session before this one. Open the link that this session printed.';

/** The role of whoever asks; null when they have no key of this door. */
export function admitted(request: IncomingMessage, { scheme, keys }: Door): Role | null {
  return keys === null
    ? 'act'
    : keys.admitted(request.headers, cookieName(scheme, request.socket.localPort ?? 0));
}

/** Turns away whoever has no key. */
export function sendNoKey(response: ServerResponse): void {
  // RFC 9110, section 11.6.1.
  response.setHeader('WWW-Authenticate', 'Bearer');
  response.setHeader('Connection', 'close');
  sendText(response, 401, NO_KEY);
}

/** Answers a GET of a link: the key becomes a cookie that no script reads and no other site sends along. */
export function enter(
  request: IncomingMessage,
  response: ServerResponse,
  { scheme, keys }: { readonly scheme: Door['scheme']; readonly keys: AccessKeys },
): void {
  const key = (request.url ?? '').slice(ENTER_PATH.length);
  if (keys.roleOf(key) === null) return sendText(response, 403, WRONG_KEY);
  const name = cookieName(scheme, request.socket.localPort ?? 0);
  const secure = scheme === 'https' ? '; Secure' : '';
  response.setHeader('Set-Cookie', `${name}=${key}; Path=/; HttpOnly; SameSite=Strict${secure}`);
  // No 303: after a link in another site's page a browser keeps a strict cookie back on it, and not on this.
  response.writeHead(200, { ...HEADERS, 'Content-Type': 'text/html; charset=utf-8', Refresh: '0; url=/' });
  response.end(
    '<!doctype html><html lang="en"><title>Railminder</title><p><a href="/">Go on to the page</a></p></html>\n',
  );
}

/** With the port in it, for browsers keep cookies by host alone. `__Host-` is RFC 6265bis, section 4.1.3.2. */
function cookieName(scheme: Door['scheme'], port: number): string {
  return `${scheme === 'https' ? '__Host-' : ''}railminder-${port}`;
}
