import { z } from 'zod';
import { messageSchema, requestSchema } from '../../../core/protocol/messages.ts';
import { limitsSchema } from '../../../core/settings/limits.ts';

/** What passes between the station and the thread that finds; `token` tells which answer is to which question. */
export const findAskSchema = z.strictObject({ token: z.number(), request: requestSchema });
export const findAnswerSchema = z.strictObject({ token: z.number(), message: messageSchema });

/** What the thread is started with. */
export const findingOfSchema = z.strictObject({ ledgerFile: z.string(), limits: limitsSchema });

export type FindingOf = z.infer<typeof findingOfSchema>;
