import { createHash } from 'node:crypto';
import { stat } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { capturesCsv } from '../record/export/captures.js';
import { columnsCsv } from '../record/export/columns.js';
import { extremesCsv } from '../record/export/extremes.js';
import { readingsCsv } from '../record/export/readings.js';
import { openOverview } from '../record/index/overview.js';
import { isFileIn } from '../record/file-in-folder.js';
import { stateWords } from '../record/listing-words.js';
import { NotARecording } from '../record/parse.js';
import { readRecording } from '../record/reader.js';
import { readHistory } from '../record/session/history.js';
import { reportOf } from '../report-of.js';
import { isRecordingName, type CsvForm, type JobAnswer, type JobAsk } from '../serve/job-ask.js';
import type { MomentView, OutcomeView } from '../serve/job-views.js';
import { alarmViews, pointViews } from '../serve/views.js';
import { alarmWords } from '../watch/words.js';
import { inBlocks } from './blocks.js';
import { compareView } from './compare-view.js';
import { FileMemory } from './file-memory.js';
import { FolderList } from './folder-list.js';
import { OpenShelf } from './open-shelf.js';
import { recordingView } from './recording-view.js';

/** How much time a line of the table of columns stands for, as `export` has it. */
const COLUMNS_EVERY_MS = 1000;
const EXTREMES_MOST = 600;
const MOST_OUTCOMES = 1000;

/** A name that leads to no recording of the folder. */
class NoSuchRecording extends Error {
  override readonly name = 'NoSuchRecording';
}

/** Answers every ask about one folder of recordings. Nothing outside the folder is ever read. */
export class JobDesk {
  readonly #folder: string;
  readonly #software: string;
  readonly #list: FolderList;
  readonly #shelf: OpenShelf;
  readonly #outcomes = new FileMemory<Omit<OutcomeView, 'file'>>(MOST_OUTCOMES);

  /** @param software name and version of this program */
  constructor(folder: string, software: string) {
    this.#folder = folder;
    this.#software = software;
    this.#list = new FolderList(folder);
    this.#shelf = new OpenShelf(software);
  }

  /**
   * Rejects never.
   * @param running the path at which the running session's recording begins; null: none is running
   */
  async answer(ask: JobAsk, running: string | null): Promise<JobAnswer> {
    try {
      return await this.#answer(ask, running === null ? null : basename(running));
    } catch (error) {
      if (error instanceof NoSuchRecording) return { ok: false, status: 404, why: error.message };
      if (error instanceof NotARecording) return { ok: false, status: 422, why: error.message };
      // A file or a disk that goes away in the middle is no reason to stop answering.
      const why = error instanceof Error ? error.message : String(error);
      return { ok: false, status: 503, why: `It could not be read (${why}); look again.` };
    }
  }

  async #answer(ask: JobAsk, running: string | null): Promise<JobAnswer> {
    switch (ask.kind) {
      case 'list':
        return json(await this.#list.list(running));
      case 'outcome':
        return json(await this.#outcome(ask.recording, running));
      case 'overview': {
        const { overview } = await this.#shelf.open(await this.#path(ask.recording));
        const stretch = { fromMs: ask.fromMs, toMs: ask.toMs ?? overview.lengthMs + 1, most: ask.most };
        const view = await recordingView(ask.recording, overview, stretch);
        return json({ ...view, running: ask.recording === running });
      }
      case 'state':
        return json(await this.#moment(ask.recording, ask.atMs));
      case 'compare':
        return json(await this.#compare(ask.before, ask.after));
      case 'report':
        return this.#report(ask.recording);
      case 'csv':
        return this.#csv(ask.recording, ask.form);
    }
  }

  async #outcome(recording: string, running: string | null): Promise<OutcomeView> {
    const path = await this.#path(recording);
    const found = await this.#outcomes.of(path, () => outcomeOf(path, this.#software));
    if (recording !== running) return { file: recording, ...found };
    return { file: recording, ...found, intact: true, state: 'being recorded now' };
  }

  async #moment(recording: string, atMs: number): Promise<MomentView> {
    const opened = await this.#shelf.open(await this.#path(recording));
    const state = await opened.stateAt(atMs);
    return { file: recording, atMs, points: pointViews(state), alarms: alarmViews(state) };
  }

  async #compare(before: string, after: string) {
    const paths = [await this.#path(before), await this.#path(after)] as const;
    return compareView({ before, after }, await readHistory(paths[0]), await readHistory(paths[1]));
  }

  async #report(recording: string): Promise<JobAnswer> {
    const path = await this.#path(recording);
    const page = await reportOf(path, await readHistory(path), this.#software);
    const style = /<style>([^]*?)<\/style>/.exec(page)?.[1] ?? '';
    const styleSha256 = createHash('sha256').update(style).digest('base64');
    return { ok: true, chunks: inBlocks([page]), styleSha256 };
  }

  async #csv(recording: string, form: CsvForm): Promise<JobAnswer> {
    const path = await this.#path(recording);
    return { ok: true, chunks: inBlocks(await this.#table(path, form)) };
  }

  async #table(path: string, form: CsvForm): Promise<AsyncIterable<string>> {
    switch (form) {
      case 'columns':
        return columnsCsv(readRecording(path), COLUMNS_EVERY_MS);
      case 'readings':
        return readingsCsv(readRecording(path));
      case 'captures':
        return capturesCsv(readRecording(path));
      case 'extremes': {
        const { overview } = await this.#shelf.open(path);
        return extremesCsv(overview, { fromMs: 0, toMs: overview.lengthMs + 1, most: EXTREMES_MOST });
      }
    }
  }

  /** @throws {NoSuchRecording} when the name doesn't lead to a file that lies in the folder. */
  async #path(recording: string): Promise<string> {
    const path = join(this.#folder, recording);
    if (isRecordingName(recording) && (await isFileIn(this.#folder, path))) return path;
    throw new NoSuchRecording('There is no such recording in this job’s folder; choose one from the list.');
  }
}

/** Leaves the overview beside the recording, so that opening it is quick afterwards. */
async function outcomeOf(path: string, software: string): Promise<Omit<OutcomeView, 'file'>> {
  const { tally, header, paths } = await openOverview(path, software);
  const { lengthMs, raised, worst, problems } = tally;
  const sizes = await Promise.all(paths.map(async (one) => (await stat(one)).size));
  const state = stateWords({ problems, header });
  return {
    lengthMs,
    bytes: sizes.reduce((sum, size) => sum + size, 0),
    intact: state === 'intact',
    state,
    alarms: raised.length,
    worst: worst && {
      priority: worst.priority,
      sentence: alarmWords(worst.cause, header.plan.prediction).sentence,
    },
  };
}

function json(view: unknown): JobAnswer {
  return { ok: true, chunks: inBlocks([JSON.stringify(view)]) };
}
