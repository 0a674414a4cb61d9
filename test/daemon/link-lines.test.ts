import { describe, expect, it } from 'vitest';
import { linkLines } from '../../daemon/link-lines.js';
import { AccessKeys } from '../../daemon/serve/keys.js';
import { qrLines } from '../../daemon/terminal-qr.js';

const ACT = 'aaaaaaaaaaaaaaaaaaaaaaaa';
const keys = new AccessKeys({ act: ACT, look: 'bbbbbbbbbbbbbbbbbbbbbbbb' });
const page = { port: 8610, host: '0.0.0.0', keys, keyFile: null, certificate: null };
const server = {
  link: (role: 'act' | 'look', host = '') => `http://${host}:8610/enter/${keys.keyOf(role)}`,
};
const addresses = ['192.168.1.20', '10.8.0.3'];

describe('the links', () => {
  it('are not spoken of on the loopback address', () => {
    expect(linkLines({ server, page: { ...page, keys: null }, addresses, isTerminal: true })).toEqual([]);
  });

  it('are told with what each may do, the other addresses, and the QR code of the first', () => {
    const lines = linkLines({ server, page, addresses, isTerminal: true });
    expect(lines).toContain(`  may do everything:  http://192.168.1.20:8610/enter/${ACT}`);
    expect(lines[0]).toContain('10.8.0.3');
    expect(lines.join('\n')).toContain(qrLines(`http://192.168.1.20:8610/enter/${ACT}`).join('\n'));
  });

  it('come with a caution unless there is TLS', () => {
    const certificate = { cert: Buffer.from(''), key: Buffer.from('') };
    const caution = /read along/;
    expect(linkLines({ server, page, addresses, isTerminal: false }).join()).toMatch(caution);
    const safe = linkLines({ server, page: { ...page, certificate }, addresses, isTerminal: false });
    expect(safe.join()).not.toMatch(caution);
  });

  it('with keys in a file stay out of a log', () => {
    const lines = linkLines({ server, page: { ...page, keyFile: '/k' }, addresses, isTerminal: false });
    expect(lines[0]).toContain('/k');
    expect(lines.join()).not.toContain(ACT);
  });
});
