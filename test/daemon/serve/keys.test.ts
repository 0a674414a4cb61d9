import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { AccessKeys, cookieIn, isKey, newKey, newKeys } from '../../../daemon/serve/keys.js';

const ACT = 'aaaaaaaaaaaaaaaaaaaaaaaa';
const LOOK = 'bbbbbbbbbbbbbbbbbbbbbbbb';
const keys = new AccessKeys({ act: ACT, look: LOOK });

describe('a key', () => {
  it('is new every time and carries 144 bits: OWASP asks for 64 of a session, this house for 128', () => {
    const made = Array.from({ length: 1000 }, newKey);
    expect(new Set(made).size).toBe(1000);
    for (const key of made) expect(Buffer.from(key, 'base64url')).toHaveLength(18);
    expect(made.every(isKey)).toBe(true);
    expect(newKeys().keyOf('act')).not.toBe(newKeys().keyOf('look'));
  });

  it.each(['', 'short', `${ACT}a`, `${ACT.slice(1)} `, `${ACT.slice(1)}=`, `${ACT}\n`])('is not %j', (text) =>
    expect(isKey(text)).toBe(false),
  );
});

describe('who asks', () => {
  it.each([
    [{ authorization: `Bearer ${ACT}` }, 'act'],
    [{ authorization: `bearer ${LOOK}` }, 'look'],
    [{ cookie: `other=1; door=${ACT}` }, 'act'],
    [{ cookie: `door=${LOOK};x=y` }, 'look'],
    [{}, null],
    [{ cookie: `doors=${ACT}` }, null],
    [{ cookie: `DOOR=${ACT}` }, null],
    [{ cookie: `x="door=${ACT}"` }, null],
    [{ cookie: `${'x=y; '.repeat(4000)}door=${ACT}` }, null],
    [{ authorization: `Basic ${ACT}` }, null],
    [{ authorization: 'Bearer' }, null],
    [{ authorization: `Bearer ${ACT.toUpperCase()}` }, null],
    [{ authorization: `Bearer ${ACT.slice(1)}` }, null],
    // A wrong header isn't mended by a right cookie.
    [{ authorization: 'Bearer x', cookie: `door=${ACT}` }, null],
  ])('%j is %s', (headers, role) => {
    expect(keys.admitted(headers, 'door')).toBe(role);
  });

  it('with any header but a key is nobody, and nothing is thrown (fast-check, seed 71)', () => {
    const text = fc.oneof(fc.string(), fc.string({ unit: 'binary' }));
    fc.assert(
      fc.property(text, text, (authorization, cookie) => {
        expect(keys.admitted({ authorization, cookie }, 'door')).toBeNull();
        expect(keys.admitted({ cookie }, 'door')).toBeNull();
      }),
      { seed: 71, numRuns: 500 },
    );
  });

  it('finds every cookie that a browser writes (RFC 6265, 4.2.1; fast-check, seed 72)', () => {
    const name = fc.stringMatching(/^[a-z]{1,8}$/);
    const value = fc.stringMatching(/^[A-Za-z0-9_-]{0,30}$/);
    fc.assert(
      fc.property(fc.uniqueArray(fc.tuple(name, value), { selector: ([one]) => one }), (pairs) => {
        const header = pairs.map((pair) => pair.join('=')).join('; ');
        for (const [one, expected] of pairs) expect(cookieIn(header, one)).toBe(expected);
      }),
      { seed: 72 },
    );
  });
});
