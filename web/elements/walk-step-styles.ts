import { css, type CSSResult } from 'lit';

/** How the step that is being done is laid out: beside each other where there is room. */
export const stepStyles: CSSResult = css`
  :host {
    container-type: inline-size;
  }
  .place,
  .standing {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 0.2rem 0.45rem;
  }
  .place {
    justify-content: space-between;
    font-weight: 600;
  }
  h2 {
    margin-block: 0.2rem 0.9rem;
    font-size: clamp(1.6rem, 5cqi, 2.3rem);
    line-height: 1.15;
  }
  section,
  .findings > * + * {
    margin-top: 1.4rem;
  }
  .both > section:first-child,
  .findings > section:first-child {
    margin-top: 0;
  }
  .both {
    display: grid;
    gap: 1.6rem 2.5rem;
    margin-top: 1.3rem;
  }
  .both > * {
    min-width: 0;
  }
  @container (min-width: 56rem) {
    .both {
      grid-template-columns: 2fr 3fr;
    }
  }
  .failed {
    margin-top: 1rem;
    padding: 0.8rem 1rem;
    border: 2px solid var(--outside);
    border-radius: 0.5rem;
  }
  .failed h3 {
    display: flex;
    align-items: center;
    gap: 0.5rem;
  }
  .failed ul {
    margin-block: 0.3rem 0.5rem;
  }
  .dashed {
    list-style: '–  ';
    padding-inline-start: 1rem;
  }
  h4 {
    margin: 0;
    font-size: 1rem;
  }
  .actions {
    list-style: decimal;
    padding-inline-start: 1.5rem;
    font-size: 1.1rem;
  }
  .actions li {
    margin-top: 0.7rem;
    padding-inline-start: 0.3rem;
  }
  .actions .caution {
    margin-top: 0.3rem;
    padding-inline-start: 0.7rem;
    border-inline-start: 3px solid var(--doubtful);
  }
  .checks {
    display: grid;
    grid-template-columns: repeat(auto-fit, minmax(min(100%, 24rem), 1fr));
    align-items: start;
    gap: 0 2rem;
    margin-top: 0.6rem;
  }
  .points {
    display: grid;
    grid-template-columns: repeat(auto-fill, minmax(min(100%, 17rem), 1fr));
    gap: 0.8rem;
    margin-top: 0.7rem;
  }
  .ways {
    padding-top: 1.1rem;
    border-top: 1px solid var(--edge);
  }
  .ways > p,
  rm-walk-reason {
    margin-top: 0.4rem;
    max-width: 50rem;
  }
  .row {
    display: flex;
    flex-wrap: wrap;
    gap: 0.6rem;
    margin-top: 0.8rem;
  }
  .next[aria-disabled='true'] {
    background: var(--sheet);
    border-style: dashed;
    border-color: var(--control-edge);
    color: var(--quiet);
  }
  .reason {
    margin-top: 0.9rem;
    padding: 0.8rem 1rem 1rem;
    border: 2px solid var(--doubtful);
    border-radius: 0.5rem;
  }
  .reason.abort {
    border-color: var(--forbidden);
  }
`;
