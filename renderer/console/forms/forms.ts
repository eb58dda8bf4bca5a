import { beamSetBackForm } from './beam-set-back.ts';
import { drugForm } from './drug.ts';
import { endFlushForm } from './end-flush.ts';
import { firstAdministratorForm } from './first-administrator.ts';
import type { Form, FormId } from './form.ts';
import { goOnForm } from './go-on.ts';
import { handsForm } from './hands.ts';
import { holdForm } from './hold.ts';
import { identifyForm } from './identify.ts';
import { lineForm } from './line.ts';
import { lookedForm } from './looked.ts';
import { measureForm } from './measure.ts';
import { openSessionForm } from './open-session.ts';
import { orderForm } from './order.ts';
import { prepareForm } from './prepare.ts';
import { printForm } from './print.ts';
import { readBackForm } from './read-back.ts';
import { recoverForm } from './recover.ts';
import { screenForm } from './screen.ts';
import { secondCheckForm } from './second-check.ts';
import { setBackForm } from './set-back.ts';
import { troubleToldForm } from './trouble-told.ts';
import {
  addendumForm,
  deviationForm,
  noteForm,
  reactionsForm,
  reviewForm,
  stopEarlyForm,
  uncheckForm,
} from './words.ts';

/** Every form, by its name. */
export const FORMS: Record<FormId, Form> = {
  hands: handsForm,
  'first-administrator': firstAdministratorForm,
  recover: recoverForm,
  'open-session': openSessionForm,
  identify: identifyForm,
  order: orderForm,
  screen: screenForm,
  measure: measureForm,
  'second-check': secondCheckForm,
  prepare: prepareForm,
  drug: drugForm,
  line: lineForm,
  hold: holdForm,
  looked: lookedForm,
  'set-back': setBackForm,
  'trouble-told': troubleToldForm,
  'end-flush': endFlushForm,
  'read-back': readBackForm,
  'beam-set-back': beamSetBackForm,
  reactions: reactionsForm,
  review: reviewForm,
  note: noteForm,
  deviation: deviationForm,
  'stop-early': stopEarlyForm,
  addendum: addendumForm,
  uncheck: uncheckForm,
  'go-on': goOnForm,
  print: printForm,
};
