import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { DesignPreview, PreviewRequest } from '../../../daemon/serve/design-messages.js';
import { DeskTrouble, type DeskLink } from '../../../web/design/desk-link.js';
import { DesignDraft } from '../../../web/design/draft.js';

/** Answers by hand: each edit is one more line of text. */
class SlowDesk {
  readonly requests: PreviewRequest[] = [];
  readonly #answers: ((trouble?: string) => void)[] = [];

  readonly link: DeskLink = {
    open: () =>
      Promise.resolve({
        file: 'a.design.yaml',
        folder: '/designs',
        text: 'a',
        version: '1',
        load: 'typical',
      }),
    preview: (request) =>
      new Promise((resolve, reject) => {
        this.requests.push(request);
        this.#answers.push((trouble) => {
          if (trouble === undefined) resolve(previewOf(request));
          else reject(new DeskTrouble(trouble));
        });
      }),
    begin: () => Promise.reject(new DeskTrouble('not here')),
    rail: () => Promise.reject(new DeskTrouble('not here')),
    save: ({ file }) => Promise.resolve({ file, version: '2', why: null }),
  };

  /** Answers the oldest question and lets what follows from it happen. */
  async answer(trouble?: string): Promise<void> {
    this.#answers.shift()?.(trouble);
    await vi.advanceTimersByTimeAsync(0);
  }
}

function previewOf({ text, edits, load, draws }: PreviewRequest): DesignPreview {
  const lines = edits.map(({ path, value }) => `${path.join('.')}=${JSON.stringify(value)}`);
  return {
    text: [text, ...lines].join('\n'),
    form: [],
    problems: [],
    prediction: { load, draws, points: [], parts: {}, advice: [], assumed: [] },
  };
}

let desk: SlowDesk;
let draft: DesignDraft;

beforeEach(async () => {
  vi.useFakeTimers();
  desk = new SlowDesk();
  draft = new DesignDraft(desk.link, () => undefined);
  const opening = draft.open();
  await vi.advanceTimersByTimeAsync(0);
  await desk.answer();
  await opening;
});

afterEach(() => {
  vi.useRealTimers();
});

const edit = (value: number) => [{ path: ['r2'], value }];

describe('a draft', () => {
  it('asks one question at a time; what is typed meanwhile goes in the next one, together', async () => {
    draft.edit(edit(1));
    draft.edit(edit(12));
    draft.edit(edit(120));
    expect(desk.requests).toHaveLength(2);
    await desk.answer();
    expect(desk.requests).toHaveLength(3);
    expect(desk.requests[2]?.edits).toEqual([...edit(12), ...edit(120)]);
    await desk.answer();
    expect(draft.text).toBe('a\nr2=1\nr2=12\nr2=120');
  });

  it('asks for the full cloud once nothing has changed for a while, and once only', async () => {
    draft.edit(edit(1));
    await desk.answer();
    expect(desk.requests.at(-1)?.draws).toBe('quick');
    await vi.advanceTimersByTimeAsync(600);
    expect(desk.requests.at(-1)?.draws).toBe('full');
    await desk.answer();
    const asked = desk.requests.length;
    await vi.advanceTimersByTimeAsync(5000);
    expect(desk.requests).toHaveLength(asked);
  });

  it('keystrokes in one field are one step back', async () => {
    draft.edit(edit(1));
    await desk.answer();
    draft.edit(edit(12));
    await desk.answer();
    draft.edit([{ path: ['r1'], value: 240 }]);
    await desk.answer();
    draft.undo();
    await desk.answer();
    expect(draft.text).toBe('a\nr2=1\nr2=12');
    draft.undo();
    await desk.answer();
    expect(draft.text).toBe('a');
    expect(draft.canUndo).toBe(false);
    expect(draft.isUnsaved).toBe(false);
  });

  it('an answer that comes after an undo is not taken', async () => {
    draft.edit(edit(1));
    await desk.answer();
    draft.edit([{ path: ['r1'], value: 240 }]);
    draft.undo();
    await desk.answer();
    await desk.answer();
    expect(draft.text).toBe('a');
  });

  it('keeps what could not be answered, and asks again when told to', async () => {
    draft.edit(edit(1));
    await desk.answer('gone');
    expect(draft.trouble).toBe('gone');
    expect(draft.isCurrent).toBe(false);
    draft.edit([]);
    await desk.answer();
    expect(draft.trouble).toBe('');
    expect(draft.text).toBe('a\nr2=1');
  });

  it('another load is asked for at once', async () => {
    draft.setLoad('full');
    await desk.answer();
    expect(draft.prediction?.load).toBe('full');
  });
});
