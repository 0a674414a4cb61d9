/** Whether this browser has a voice. It may come a moment after the page. */
export function hasVoice(): boolean {
  return (window.speechSynthesis?.getVoices().length ?? 0) > 0;
}

/** Says something when what was said before is over, or with `urgent` at once. False without a voice. */
export function say(words: string, urgent = false): boolean {
  if (!hasVoice()) return false;
  if (urgent) window.speechSynthesis.cancel();
  window.speechSynthesis.speak(new SpeechSynthesisUtterance(words));
  return true;
}
