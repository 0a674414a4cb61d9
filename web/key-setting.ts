const NAME = 'railminder.single-keys';

/** Whether single keys act; on unless the person turned them off in this browser. */
export function readKeySetting(): boolean {
  try {
    return window.localStorage.getItem(NAME) !== 'off';
  } catch {
    return true;
  }
}

/** Keeps the choice for the next visit. A browser that keeps nothing just asks again. */
export function writeKeySetting(on: boolean): void {
  try {
    window.localStorage.setItem(NAME, on ? 'on' : 'off');
  } catch {
    return;
  }
}
