import { readFileSync } from 'node:fs';
import { z } from 'zod';
import { commandSchema, openSessionSchema } from '../../core/procedure/commands.ts';
import { personSchema } from '../../core/procedure/person.ts';

const stepSchema = z.strictObject({
  /** Seconds from the start of the rehearsal. */
  atS: z.number().min(0).max(172_800),
  /** Whose hands give the command. */
  by: personSchema,
  /** Which of several overlapping sessions it is for; a name of the scenario's own. */
  session: z.string().min(1).max(20).default('first'),
  command: z.discriminatedUnion('kind', [openSessionSchema, commandSchema], {
    error: (issue) => (issue.code === 'invalid_union' ? 'there is no command of that kind' : undefined),
  }),
});

const scenarioSchema = z.array(stepSchema).min(1, 'a scenario has at least one command');

export type Step = z.infer<typeof stepSchema>;

/** A scenario file that cannot be used: which step, which field, and why. */
export class BadScenario extends Error {}

/** Reads a scenario: a list of commands, each with the second it is given at. @throws BadScenario */
export function readScenario(file: string): Step[] {
  const steps = scenarioSchema.safeParse(jsonOf(file));
  if (!steps.success) {
    const issue = steps.error.issues[0];
    const [index, ...path] = issue?.path ?? [];
    const field = path.length > 0 ? `, ${path.join('.')}` : '';
    const where = index === undefined ? '' : `command ${Number(index) + 1}${field}: `;
    throw new BadScenario(`${file}: ${where}${issue?.message ?? 'not a scenario'}`);
  }
  checkOrder(file, steps.data);
  return steps.data;
}

function jsonOf(file: string): unknown {
  try {
    return JSON.parse(readFileSync(file, 'utf8'));
  } catch (error) {
    throw new BadScenario(`${file} cannot be read: ${error instanceof Error ? error.message : String(error)}`);
  }
}

function checkOrder(file: string, steps: readonly Step[]): void {
  const opened = new Set<string>();
  let beforeS = 0;
  steps.forEach(({ atS, session, command }, index) => {
    const where = `${file}: command ${index + 1}`;
    if (atS < beforeS) throw new BadScenario(`${where} is given at ${atS} s, before the one above it at ${beforeS} s`);
    beforeS = atS;
    if (command.kind === 'open-session') {
      if (opened.has(session)) throw new BadScenario(`${where} opens session "${session}" a second time`);
      opened.add(session);
    } else if (!opened.has(session)) {
      throw new BadScenario(`${where} is for session "${session}", which no "open-session" has opened yet`);
    }
  });
}
