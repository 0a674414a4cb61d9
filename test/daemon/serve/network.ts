import type { Door } from '../../../daemon/serve/access.js';
import { AccessKeys } from '../../../daemon/serve/keys.js';
import type { ServerOptions } from '../../../daemon/serve/server.js';
import { cabin, type Cabin } from './cabin.js';
import { running, type Running } from './running.js';

export const ACT = 'aaaaaaaaaaaaaaaaaaaaaaaa';
export const LOOK = 'bbbbbbbbbbbbbbbbbbbbbbbb';
export const WRONG = 'cccccccccccccccccccccccc';

export const DOOR: Door = {
  scheme: 'http',
  names: ['signalbox', 'signalbox.local'],
  keys: new AccessKeys({ act: ACT, look: LOOK }),
};

/** A real server that is open to the network: on every address, with keys. */
export function openToNetwork(
  session: Cabin = cabin(),
  options: Partial<ServerOptions> = {},
): Promise<Running> {
  return running(session, { host: '0.0.0.0', door: DOOR, ...options });
}

export function bearer(key: string): Record<string, string> {
  return { authorization: `Bearer ${key}` };
}
