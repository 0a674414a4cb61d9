import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import type { IncomingHttpHeaders } from 'node:http';

/** What whoever holds a key may do: everything, or look without changing anything. */
export type Role = 'act' | 'look';

/** 144 bits: more than 128, and no filling signs in base64. */
const KEY_BYTES = 18;
const KEY = /^[A-Za-z0-9_-]{24}$/;
/** A browser sends 4 KB of cookies at most for one name (RFC 6265, section 6.1). */
const LONGEST_HEADER = 8192;

/** What a person is told who asks for more than to look. */
export const ONLY_LOOKS =
  'This page was opened with the link that only looks; open the other link to change anything.';

/** One random key for each role, and who has which. Keys are compared in constant time and never written out. */
export class AccessKeys {
  readonly #act: string;
  readonly #look: string;

  /** @param keys both different, each of the form that `newKey` gives */
  constructor(keys: Readonly<Record<Role, string>>) {
    this.#act = keys.act;
    this.#look = keys.look;
  }

  keyOf(role: Role): string {
    return role === 'act' ? this.#act : this.#look;
  }

  /** Whose key this is; null when nobody's. */
  roleOf(key: string): Role | null {
    if (same(key, this.#act)) return 'act';
    return same(key, this.#look) ? 'look' : null;
  }

  /**
   * The role of whoever sent a request: by `Authorization: Bearer KEY` (RFC 6750, section 2.1), else by the cookie.
   * @param cookie its name
   */
  admitted({ authorization, cookie: cookies }: IncomingHttpHeaders, cookie: string): Role | null {
    if (authorization !== undefined) return this.roleOf(bearer(authorization));
    const key = cookieIn(cookies ?? '', cookie);
    return key === null ? null : this.roleOf(key);
  }
}

export function newKey(): string {
  return randomBytes(KEY_BYTES).toString('base64url');
}

export function newKeys(): AccessKeys {
  return new AccessKeys({ act: newKey(), look: newKey() });
}

/** Whether a text has the form of a key; anything else would be easier to guess. */
export function isKey(text: string): boolean {
  return KEY.test(text);
}

function bearer(authorization: string): string {
  const [scheme = '', key = ''] = authorization.slice(0, LONGEST_HEADER).split(' ', 2);
  return scheme.toLowerCase() === 'bearer' ? key : '';
}

/** The value of a cookie (RFC 6265, section 4.2); the first one of the name, as browsers send the nearest first. */
export function cookieIn(header: string, name: string): string | null {
  for (const pair of header.slice(0, LONGEST_HEADER).split(';')) {
    const cut = pair.indexOf('=');
    if (cut !== -1 && pair.slice(0, cut).trim() === name) return pair.slice(cut + 1).trim();
  }
  return null;
}

/** Digests, because only texts of one length can be compared in constant time. */
function same(found: string, key: string): boolean {
  return timingSafeEqual(digest(found), digest(key));
}

function digest(text: string): Buffer {
  return createHash('sha256').update(text).digest();
}
