import { openRecording } from '../../../../daemon/record/writer.js';
import { HEADER } from '../signal-cabin.js';

/** Opens a recording in the folder given and prints what is told. */
const recording = await openRecording({
  folder: process.argv[2] ?? '',
  name: 'signal cabin',
  header: HEADER,
  onTrouble: (why) => console.log(why),
  onWell: () => console.log('well'),
  onLittleRoom: () => undefined,
});
console.log(recording.trouble);
await recording.close(0);
