import { benchText } from '../bench-text.js';
import { joinInstruments } from '../channels.js';
import { BadUse, EXIT, readArguments, type Command } from '../command-line.js';
import { loadBench } from '../design/load.js';
import { Dialogue } from '../dialogue.js';
import { readDesign } from '../files.js';
import { judgementWords } from '../judgement-words.js';
import { askNewBench } from '../new-bench.js';
import { newFileName, refuseExisting, writeNew } from '../new-file.js';
import { listen } from '../../drivers/listen/listen.js';
import { listPorts } from '../../drivers/ports.js';

const USAGE = 'railminder bench new DESIGN [FILE]';
const LISTEN_SECONDS = 3;

/** Asks what is on the table and writes the bench file. */
export const benchCommand: Command = {
  name: 'bench',
  does: 'listens at the ports, asks what measures what, and writes a bench file',
  help: `${USAGE}

Goes through the ports that are plugged in: listens at each that you agree to, proposes how to read what is there, and
asks which of the design's test points each channel measures. Takes other ports by path or host:port, and meters without
a cable. Enter alone takes what stands in brackets. Writes FILE, a commented *.bench.yaml (without FILE: named after the
design, in this folder), and never overwrites one. Ctrl-C ends it with nothing written.`,
  async run(args) {
    const { positionals } = readArguments(args, USAGE, {}, { atLeast: 1, atMost: 3 });
    const [what = '', designFile, file] = positionals;
    if (what !== 'new') throw new BadUse(`"${what}" is not known; allowed is new\nUse: ${USAGE}`);
    if (designFile === undefined) throw new BadUse(`a file is missing\nUse: ${USAGE}`);
    const design = readDesign(designFile);
    const path = file ?? newFileName(design.value.design, 'bench');
    refuseExisting(path);
    const dialogue = new Dialogue();
    try {
      const drafts = await askNewBench(
        {
          design: design.value,
          ports: await listPorts(),
          listenAt: (place) =>
            dialogue.meanwhile((signal) => listen(place, { seconds: LISTEN_SECONDS, signal })),
          inWords: ({ judgement }) => judgementWords(judgement),
        },
        dialogue,
      );
      if (drafts.length === 0) throw new BadUse('\nNo instrument was named; nothing was written.');
      const text = benchText(`Bench for ${design.value.design}`, drafts);
      // What it writes must load; a fault here is ours and would surprise the person later.
      joinInstruments({ file: path, text, value: loadBench(text, path, design.value) });
      writeNew(path, text);
      console.log(`\nWritten: ${path}. Look it over, then: railminder watch ${designFile} --bench ${path}`);
      return EXIT.fine;
    } finally {
      dialogue.close();
    }
  },
};
