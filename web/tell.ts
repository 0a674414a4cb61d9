/** Tells whoever shows `element` that something happened in it, through every shadow root. */
export function tell(element: HTMLElement, name: string, detail?: unknown): void {
  element.dispatchEvent(new CustomEvent(name, { detail, bubbles: true, composed: true }));
}
