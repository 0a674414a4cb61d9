import { get as getHttp, type IncomingMessage } from 'node:http';
import { get as getHttps } from 'node:https';
import { z } from 'zod';
import { inAddress } from './access.js';

/** Answered to programs on this machine alone. */
export const HOLDER_PATH = '/holder';
/** Nobody is called at "every address". */
const CALLED: Readonly<Record<string, string>> = { '0.0.0.0': '127.0.0.1', '::': '::1' };
const ANSWER_WITHIN_MS = 500;
const LONGEST_ANSWER = 4096;

const holderSchema = z.object({
  program: z.literal('railminder'),
  // Nothing that a terminal obeys.
  design: z
    .string()
    .max(200)
    .regex(/^\P{C}*$/u),
  process: z.number().int().positive(),
  startedAt: z.iso.datetime({ offset: true }),
});

/** Who holds a port. */
export type Holder = z.infer<typeof holderSchema>;

/** Asks the program that holds a port of this machine; null when it doesn't say, or is none of ours. */
export async function holderOf(host: string, port: number): Promise<Holder | null> {
  const place = `${inAddress(CALLED[host] ?? host)}:${port}${HOLDER_PATH}`;
  return (await ask(getHttp, `http://${place}`)) ?? (await ask(getHttps, `https://${place}`));
}

function ask(get: typeof getHttps, address: string): Promise<Holder | null> {
  return new Promise((resolve) => {
    // Its certificate is of no matter: nothing is told to it, and all it says is put in a sentence.
    const options = { timeout: ANSWER_WITHIN_MS, rejectUnauthorized: false, agent: false } as const;
    const asked = get(address, options, (response) => {
      textOf(response).then(
        (text) => resolve(read(text)),
        () => resolve(null),
      );
    });
    const timer = setTimeout(() => asked.destroy(), 2 * ANSWER_WITHIN_MS);
    asked.on('timeout', () => asked.destroy());
    asked.on('error', () => resolve(null));
    asked.on('close', () => clearTimeout(timer));
  });
}

async function textOf(response: IncomingMessage): Promise<string> {
  let text = '';
  for await (const chunk of response) {
    text += String(chunk);
    if (text.length > LONGEST_ANSWER) return '';
  }
  return text;
}

function read(text: string): Holder | null {
  try {
    return holderSchema.safeParse(JSON.parse(text)).data ?? null;
  } catch {
    return null;
  }
}
