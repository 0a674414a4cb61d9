import type {
  BenchPreview,
  BenchRequest,
  HeardLines,
  HeardRequest,
  ListenRequest,
  ListeningView,
  OpenedBench,
  PortsView,
  SaveRequest,
  Saved,
  TriedLines,
  TryRequest,
} from '../../daemon/serve/instrument-messages.js';
import { askDesk } from '../design/desk-link.js';

/** What the daemon answers about instruments. Each rejects with `DeskTrouble`. */
export const instrumentLink = {
  open: (): Promise<OpenedBench> => askDesk('/instruments/open'),
  preview: (request: BenchRequest): Promise<BenchPreview> => askDesk('/instruments/preview', request),
  ports: (): Promise<PortsView> => askDesk('/instruments/ports', {}),
  listen: (request: ListenRequest): Promise<ListeningView> => askDesk('/instruments/listen', request),
  listening: (): Promise<ListeningView> => askDesk('/instruments/listening', {}),
  hush: (): Promise<ListeningView> => askDesk('/instruments/hush', {}),
  heard: (request: HeardRequest): Promise<HeardLines> => askDesk('/instruments/heard', request),
  try: (request: TryRequest): Promise<TriedLines> => askDesk('/instruments/try', request),
  save: (request: SaveRequest): Promise<Saved> => askDesk('/instruments/save', request),
};

export type InstrumentLink = typeof instrumentLink;
