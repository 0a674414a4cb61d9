import { TONE_PATTERNS, VERDICT_TONES, type Pulse, type ToneName } from './tone-patterns.js';

/** `off`: the browser allows no sound before the first key or press. `muted`: the person chose silence. */
export type SoundState = 'off' | 'on' | 'muted';

const LOUDNESS = { soft: 0.08, usual: 0.25, loud: 0.7 } as const;
const FADE_S = 0.012;
/** Each burst that nobody acknowledges is so much louder than the one before, up to the loudest. */
const LOUDER = 1.15;
const LOUDEST = 0.9;

/** Plays a tone pattern over and over until told otherwise. */
export class AlarmSound {
  #context: AudioContext | null = null;
  /** How loud tones are. */
  level: keyof typeof LOUDNESS = 'usual';
  #muted = false;
  #playing: ToneName | null = null;
  #bursts = 0;
  #timer: ReturnType<typeof setTimeout> | undefined;

  get state(): SoundState {
    if (this.#muted) return 'muted';
    return this.#context?.state === 'running' ? 'on' : 'off';
  }

  /** Which pattern would be heard if sound is on. */
  get playing(): ToneName | null {
    return this.#playing;
  }

  /** Opens the sound. Works only while the browser handles a key or a press. */
  async enable(): Promise<void> {
    this.#context ??= new AudioContext();
    if (this.#context.state !== 'running') await this.#context.resume();
    if (this.#playing) this.#burst(this.#playing);
  }

  mute(muted: boolean): void {
    this.#muted = muted;
    if (!muted && this.#playing) this.#burst(this.#playing);
  }

  /** From now on repeat this pattern, or be quiet. */
  play(tone: ToneName | null): void {
    if (tone === this.#playing) return;
    this.#playing = tone;
    clearTimeout(this.#timer);
    this.#bursts = 0;
    if (tone) this.#burst(tone);
  }

  /** Plays one burst of the high pattern, for a person who wants to know that they will hear it. */
  test(): void {
    this.#sound(TONE_PATTERNS.high.pulses);
  }

  /** One verdict, when no alarm is heard. */
  verdict(verdict: keyof typeof VERDICT_TONES): void {
    if (!this.#muted && this.#playing === null) this.#sound(VERDICT_TONES[verdict]);
  }

  #burst(tone: ToneName): void {
    const pattern = TONE_PATTERNS[tone];
    clearTimeout(this.#timer);
    this.#bursts += 1;
    if (this.#bursts > (pattern.mostBursts ?? Infinity)) return;
    this.#timer = setTimeout(() => this.#burst(tone), pattern.repeatEveryS * 1000);
    if (!this.#muted) this.#sound(pattern.pulses, LOUDER ** (this.#bursts - 1));
  }

  #sound(pulses: readonly Pulse[], times = 1): void {
    const context = this.#context;
    if (context?.state !== 'running') return;
    const loudness = Math.min(LOUDEST, times * LOUDNESS[this.level]);
    for (const pulse of pulses) {
      const fromS = context.currentTime + 0.02 + pulse.atS;
      const toS = fromS + pulse.lengthS;
      const tone = new OscillatorNode(context, { type: 'triangle', frequency: pulse.hertz });
      const gain = new GainNode(context, { gain: 0 });
      gain.gain.setValueAtTime(0, fromS);
      gain.gain.linearRampToValueAtTime(loudness, fromS + FADE_S);
      gain.gain.setValueAtTime(loudness, toS - FADE_S);
      gain.gain.linearRampToValueAtTime(0, toS);
      tone.connect(gain).connect(context.destination);
      tone.start(fromS);
      tone.stop(toS);
    }
  }
}
