/** Bytes were given to a link that isn't open. They were not kept and will not be sent later. */
export class LinkNotOpen extends Error {
  readonly code = 'link-not-open';

  constructor(linkName: string) {
    super(`${linkName} is not open, so nothing was sent; wait for it to open and send again`);
    this.name = 'LinkNotOpen';
  }
}
