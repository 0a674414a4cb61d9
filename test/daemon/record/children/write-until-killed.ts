import { writeSync } from 'node:fs';
import { systemDisk, type Disk, type OpenFile } from '../../../../daemon/record/disk.js';
import { stampMs } from '../../../../daemon/record/stamp.js';
import { openRecording } from '../../../../daemon/record/writer.js';
import { HEADER, volts } from '../signal-cabin.js';

/**
 * Records 200 readings a second until it is killed. Prints `appended N atMs` for each and `synced N` when the disk
 * has everything up to N for sure; `slowest ms` is the longest that the disk took.
 */
const startMs = performance.now();
let appended = 0;
let slowestMs = 0;

const disk: Disk = { ...systemDisk, create: async (path) => telling(await systemDisk.create(path)) };

function telling(file: OpenFile): OpenFile {
  let newest = 0;
  return {
    ...file,
    write(bytes) {
      const last = Buffer.from(bytes)
        .toString()
        .trimEnd()
        .split(/[,\]\n]/)
        .at(-2);
      newest = Number(last) || newest;
      return file.write(bytes);
    },
    async sync() {
      const beganMs = performance.now();
      await file.sync();
      slowestMs = Math.max(slowestMs, performance.now() - beganMs);
      writeSync(1, `synced ${newest}\nslowest ${slowestMs}\n`);
    },
  };
}

const recording = await openRecording({
  folder: process.argv[2] ?? '',
  name: 'signal cabin',
  header: HEADER,
  onTrouble: (why) => writeSync(2, why),
  onWell: () => undefined,
  onLittleRoom: () => undefined,
  disk,
});

setInterval(() => {
  appended += 1;
  const atMs = stampMs(performance.now() - startMs);
  recording.append(volts(atMs, appended));
  writeSync(1, `appended ${appended} ${atMs}\n`);
}, 5);
