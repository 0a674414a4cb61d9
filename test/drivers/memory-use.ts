import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';

setFlagsFromString('--expose-gc');
const collect = runInNewContext('gc') as () => void;

/** Bytes in use on the heap and in buffers once all that nobody holds has been collected. */
export function bytesInUse(): number {
  collect();
  collect(); // buffers are let go a round later than what held them
  const { arrayBuffers, heapUsed } = process.memoryUsage();
  return heapUsed + arrayBuffers;
}
