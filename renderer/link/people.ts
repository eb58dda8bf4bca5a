import type { Message, Request } from '../../core/protocol/messages.ts';
import { ask } from './requests.ts';

type Requested<Type extends Request['type']> = Omit<Extract<Request, { type: Type }>, 'requestId'>;

/** What can be asked about people, but for its identity. */
export type PeopleRequest =
  | Requested<'sign-in'>
  | Requested<'sign-out'>
  | Requested<'first-administrator'>
  | Requested<'change-roster'>
  | Requested<'give-pin'>
  | Requested<'own-pin'>
  | Requested<'recover'>;

/** What became of it. */
export type PeopleAnswer = Extract<Message, { type: 'hands' | 'people-done' | 'refused' | 'error' }>;

export function askAboutPeople(request: PeopleRequest): Promise<PeopleAnswer> {
  return ask({ ...request, requestId: crypto.randomUUID() });
}

/** Why not, as sentences; nothing where it was done. */
export function whyNotDone(answer: PeopleAnswer): readonly string[] {
  if (answer.type === 'refused') return answer.missing.map(({ text }) => text);
  return answer.type === 'error' ? [answer.says] : [];
}
