import { basename } from 'node:path';
import { designName } from './design-name.js';
import { fileSha256 } from './record/file-hash.js';
import { readPieces } from './record/reader.js';
import { reportPage } from './record/report/report.js';
import type { SessionHistory } from './record/session/history.js';

/** The job file's page of a recording that has been read, as HTML. */
export async function reportOf(file: string, history: SessionHistory, software: string): Promise<string> {
  const { design } = history.header;
  const title = designName(design.text) ?? design.file;
  return reportPage({ history, title, files: await hashes(file), software });
}

/** Of every file of the session. */
async function hashes(file: string): Promise<{ name: string; sha256: string }[]> {
  const paths = new Set<string>();
  for await (const { path } of readPieces(file)) paths.add(path);
  return Promise.all(
    [...paths].map(async (path) => ({ name: basename(path), sha256: await fileSha256(path) })),
  );
}
