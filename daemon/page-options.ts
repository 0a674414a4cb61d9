import { readFileSync } from 'node:fs';
import { isIP } from 'node:net';
import { createSecureContext } from 'node:tls';
import { BadUse, numberArgument } from './command-line.js';
import { keysIn } from './key-file.js';
import { errorCode } from './record/disk.js';
import type { Certificate } from './serve/http.js';
import { newKeys, type AccessKeys } from './serve/keys.js';
import { LOOPBACK } from './serve/port.js';

/** Where a session's page is served and to whom. */
export interface PageAddress {
  /** Null: the first free one from the usual port on. */
  readonly port: number | null;
  readonly host: string;
  /** Null on the loopback address. */
  readonly keys: AccessKeys | null;
  /** The file that the keys are in; null: they are this session's alone. */
  readonly keyFile: string | null;
  /** Null: without TLS. */
  readonly certificate: Certificate | null;
}

/** Every command that serves a page has these. */
export const PAGE_OPTIONS = {
  port: { type: 'string' },
  address: { type: 'string' },
  'open-to-network': { type: 'boolean', default: false },
  'key-file': { type: 'string' },
  cert: { type: 'string' },
  key: { type: 'string' },
} as const;

export const PAGE_USAGE =
  '[--port N] [--open-to-network [--address ADDRESS] [--key-file FILE] [--cert FILE --key FILE]]';

/** For the help of such a command, in the column of its other options. */
export const PAGE_HELP = `  --port N              the page's port (default: the first free one from 8610 on)
  --open-to-network     shows the page to other machines too, your phone for example: prints two links with random
                        keys, one that may do everything and one that only looks, and a QR code
  --address ADDRESS     listens on this address of the machine only (with --open-to-network; default: all of them)
  --key-file FILE       keeps the keys of the links in FILE, so that they are the same next time; made when missing
  --cert FILE --key FILE  serves the page over TLS with this certificate and its key, both PEM`;

interface Given {
  readonly port?: string | undefined;
  readonly address?: string | undefined;
  readonly 'open-to-network': boolean;
  readonly 'key-file'?: string | undefined;
  readonly cert?: string | undefined;
  readonly key?: string | undefined;
}

const EVERY_ADDRESS = '0.0.0.0';
const LOOPBACK_ADDRESS = /^127\.|^::1$/;

/** @throws {BadUse} naming the option and the cure. */
export function pageAddress(given: Given): PageAddress {
  const isOpen = given['open-to-network'];
  const keyFile = given['key-file'] ?? null;
  const host = given.address ?? (isOpen ? EVERY_ADDRESS : LOOPBACK);
  if (isIP(host) === 0) {
    throw new BadUse(
      `--address: found "${host}"; an IP address of this machine is allowed, 192.168.1.20 for example`,
    );
  }
  if (!isOpen && !LOOPBACK_ADDRESS.test(host)) {
    throw new BadUse(
      `--address ${host}: others on the network reach that; add --open-to-network if they shall, with a key`,
    );
  }
  if (!isOpen && keyFile !== null) {
    throw new BadUse('--key-file: nobody is asked for a key on this machine alone; add --open-to-network');
  }
  return {
    port: given.port === undefined ? null : numberArgument('port', given.port, { low: 0, high: 65535 }),
    host,
    keys: isOpen ? (keyFile === null ? newKeys() : keysIn(keyFile)) : null,
    keyFile,
    certificate: certificateIn(given.cert, given.key),
  };
}

function certificateIn(cert: string | undefined, key: string | undefined): Certificate | null {
  if (cert === undefined && key === undefined) return null;
  if (cert === undefined || key === undefined) {
    throw new BadUse('--cert and --key: both are needed for TLS; give the certificate and its private key');
  }
  const found = { cert: contentOf('cert', cert), key: contentOf('key', key) };
  try {
    createSecureContext(found);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new BadUse(
      `--cert ${cert} --key ${key}: they don't serve for TLS (${why}); a certificate and the key that belongs to it are needed, in PEM and without a password`,
    );
  }
  return found;
}

function contentOf(option: string, file: string): Buffer {
  try {
    return readFileSync(file);
  } catch (error) {
    throw new BadUse(`--${option} ${file}: it can't be read (${errorCode(error)}); name a PEM file`);
  }
}
