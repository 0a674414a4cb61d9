import { MOST_REGISTERS, type ReadRequest } from './frames.js';
import type { RegisterSpec } from './register-map.js';
import { registersFor } from './register-values.js';

/** Registers of one unit that are read by one question. */
export interface Block {
  readonly request: ReadRequest;
  readonly registers: readonly RegisterSpec[];
}

/**
 * The questions that read all these registers. Registers that touch or overlap share one; a gap is never read across,
 * because a device may refuse what it doesn't have.
 */
export function blocksOf(registers: readonly RegisterSpec[]): readonly Block[] {
  const sorted = [...registers].sort(
    (a, b) => a.unit - b.unit || a.functionCode - b.functionCode || a.address - b.address,
  );
  const blocks: Block[] = [];
  for (const register of sorted) {
    const last = blocks.at(-1);
    const joined = last === undefined ? null : join(last, register);
    if (joined === null) blocks.push(blockOf(register));
    else blocks[blocks.length - 1] = joined;
  }
  return blocks;
}

/** The same registers, each by a question of its own. */
export function separately({ registers }: Block): readonly Block[] {
  return registers.map(blockOf);
}

function blockOf(register: RegisterSpec): Block {
  const { unit, functionCode, address, type } = register;
  return { request: { unit, functionCode, address, count: registersFor(type) }, registers: [register] };
}

function join({ request, registers }: Block, next: RegisterSpec): Block | null {
  const end = request.address + request.count;
  const isSame = next.unit === request.unit && next.functionCode === request.functionCode;
  if (!isSame || next.address > end) return null;
  const count = Math.max(end, next.address + registersFor(next.type)) - request.address;
  if (count > MOST_REGISTERS) return null;
  return { request: { ...request, count }, registers: [...registers, next] };
}
