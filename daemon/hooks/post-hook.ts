/** Posts the text as JSON. Resolves when the address answers with a code of success (RFC 9110, 15.3). */
export async function postText(address: string, text: string, signal: AbortSignal): Promise<void> {
  const { username, password } = new URL(address);
  const response = await fetch(bare(address), {
    method: 'POST',
    headers: {
      'Content-Type': 'application/json',
      ...(username !== '' && { Authorization: basic(username, password) }),
    },
    body: text,
    redirect: 'error',
    signal,
  }).catch((error: unknown) => {
    throw new Error(
      signal.aborted ? 'it took too long and was given up' : `it can't be reached: ${reason(error)}`,
    );
  });
  // What it says is of no interest, however long it is.
  await response.body?.cancel().catch(() => undefined);
  if (!response.ok) throw new Error(`it answered ${response.status} ${response.statusText}`.trim());
}

/** A name and a password in an address are sent as what they are (RFC 7617), not as a part of it. */
function basic(username: string, password: string): string {
  const pair = `${decodeURIComponent(username)}:${decodeURIComponent(password)}`;
  return `Basic ${Buffer.from(pair).toString('base64')}`;
}

function bare(address: string): URL {
  const url = new URL(address);
  url.username = '';
  url.password = '';
  return url;
}

/** Node hides why under `cause`. */
function reason(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  const { cause } = error;
  if (!(cause instanceof Error)) return error.message;
  return 'code' in cause && typeof cause.code === 'string' ? cause.code : cause.message;
}
