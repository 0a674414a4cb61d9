import { systemDisk, type Disk, type OpenFile } from '../../../daemon/record/disk.js';

/** The real disk, with faults to switch in. */
export interface FaultyDisk extends Disk {
  /** Bytes that still fit; then a short write and ENOSPC, as POSIX has it. */
  freeBytes: number;
  /** Every write, sync or open fails with this code. */
  failWrite: string | null;
  failSync: string | null;
  failCreate: string | null;
  /** Writes don't come back while this is set. */
  hang: Promise<void> | null;
  syncs: number;
  writes: number;
}

export function faultyDisk(): FaultyDisk {
  const disk: FaultyDisk = {
    ...systemDisk,
    freeBytes: Infinity,
    failWrite: null,
    failSync: null,
    failCreate: null,
    hang: null,
    syncs: 0,
    writes: 0,
    async create(path) {
      if (disk.failCreate !== null) throw systemError(disk.failCreate);
      return withFaults(disk, await systemDisk.create(path));
    },
    roomBytes: () => Promise.resolve(disk.freeBytes),
    reopen: async (path) => withFaults(disk, await systemDisk.reopen(path)),
  };
  return disk;
}

function withFaults(disk: FaultyDisk, file: OpenFile): OpenFile {
  return {
    ...file,
    async write(bytes) {
      disk.writes += 1;
      await disk.hang;
      if (disk.failWrite !== null) throw systemError(disk.failWrite);
      const fitting = bytes.subarray(0, disk.freeBytes);
      if (fitting.length === 0) throw systemError('ENOSPC');
      disk.freeBytes -= fitting.length;
      return file.write(fitting);
    },
    async sync() {
      disk.syncs += 1;
      if (disk.failSync !== null) throw systemError(disk.failSync);
      await file.sync();
    },
  };
}

function systemError(code: string): Error {
  return Object.assign(new Error(`${code}: as the system says it`), { code });
}
