/** Under this, a full disk is told before it is full, whatever the recording needs. */
const LITTLE_BYTES = 64 * 1024 * 1024;
/** How soon the disk will be full, told once each, s. */
const TOLD_BEFORE_S = [3600, 600] as const;
/** A shorter time says nothing about how fast a recording grows, s. */
const LEAST_S = 30;
const MEGABYTE = 1e6;

/** Says when a disk is about to be full, from what is free and how fast the recording grows. */
export class RoomForecast {
  #toldLittle = false;
  #told = 0;

  /**
   * Words for a person when there is something new to say, else null.
   * @param freeBytes what still fits on the disk
   * @param grownBytes how much the recording grew in the last `seconds`
   */
  next(freeBytes: number, grownBytes: number, seconds: number): string | null {
    const free = `${(freeBytes / MEGABYTE).toFixed(0)} MB free`;
    const left = seconds < LEAST_S || grownBytes <= 0 ? Infinity : (freeBytes / grownBytes) * seconds;
    const due = TOLD_BEFORE_S.filter((before) => left < before).length;
    if (due > this.#told) {
      this.#told = due;
      this.#toldLittle = true;
      return `the disk will be full in about ${minutes(left)} (${free}); delete something there`;
    }
    if (this.#toldLittle || freeBytes >= LITTLE_BYTES) return null;
    this.#toldLittle = true;
    return `the disk has only ${free}; delete something there`;
  }
}

function minutes(seconds: number): string {
  const whole = Math.max(1, Math.floor(seconds / 60));
  return `${whole} minute${whole === 1 ? '' : 's'}`;
}
