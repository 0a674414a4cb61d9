import { BadUse } from '../command-line.js';
import { NotARecording, type RecordingItem } from '../record/parse.js';

/** Runs work on a recording. @throws {BadUse} when the file isn't one. */
export async function withRecording<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof NotARecording) throw new BadUse(error.message);
    throw error;
  }
}

/** Passes a recording's items on and tells its problems, so that nothing made of it hides them. */
export async function* tellingProblems(
  items: AsyncIterable<RecordingItem>,
  say: (why: string) => void,
): AsyncGenerator<RecordingItem, void, void> {
  for await (const item of items) {
    if (item.kind === 'problem') say(item.why);
    yield item;
  }
}
