/** Long enough that sending one costs little beside making it, short enough to wait in memory. */
const BLOCK_LETTERS = 64 * 1024;

/** The same text in blocks of about equal length, whatever pieces it comes in. */
export async function* inBlocks(
  pieces: AsyncIterable<string> | Iterable<string>,
): AsyncGenerator<string, void, void> {
  let block = '';
  for await (const piece of pieces) {
    block += piece;
    if (block.length < BLOCK_LETTERS) continue;
    yield block;
    block = '';
  }
  if (block !== '') yield block;
}
