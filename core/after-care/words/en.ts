import type { AfterCareWords } from '../sentences.ts';

/** English, in words for a reader of twelve. The clinic reads it through before the first patient gets it. */
export const EN: AfterCareWords = {
  title: 'After your treatment: stay out of bright light',
  practice: 'PRACTICE, not for a patient',
  patient: '{code}, born {born}',

  'given-title': 'What you were given',
  given: 'You had the medicine verteporfin through a drip into a vein. The drip ended on {day} at {time}.',
  'light-right': 'Then a special light was shone into your right eye.',
  'light-left': 'Then a special light was shone into your left eye.',
  'light-both': 'Then a special light was shone into both of your eyes.',
  'light-none':
    'No treatment light was shone into your eye. But you did have the medicine, so this whole sheet is for you.',

  'until-title': 'Stay out of bright light until',
  until: '{day}, {time}',
  hours:
    'That is {hours} hours after the drip ended. Until then bright light can burn your skin and harm your eyes, even if you feel well.',

  'avoid-title': 'What to stay away from until then',
  sun: 'Stay out of direct sunlight.',
  lamps: 'Stay away from bright lamps indoors, such as halogen lamps and sunbeds.',
  'clinic-lamps': 'Put off visits to the dentist: the lamps there are too bright for you. So are lamps for operations.',
  oximeter:
    'A device that shines light on your skin must not stay on you for long. One is the finger clip that measures oxygen.',

  'outside-title': 'If you have to go out by day',
  cover: 'Cover your skin: long sleeves, long trousers, gloves and a wide hat. Wear dark sunglasses.',
  'sun-cream': 'Sun cream does not protect you: the light you can see is what harms you now.',

  'indoors-title': 'Do not stay in the dark',
  indoors: 'Normal light in a room is good for you. It helps to use up the medicine in your skin.',

  'also-title': 'Please also',
  wristband: 'Keep the wristband on until the time above.',
  driving: 'Do not drive and do not use machines while you cannot see well.',

  'surgery-title': 'If you need an operation before then',
  surgery:
    'Show this sheet and your wristband. Say that you had verteporfin. The team should shield the inside of your body from strong light as well as they can.',

  'call-title': 'When to call us',
  'call-sight': 'Call us at once if your sight suddenly gets much worse.',
  'call-vein': 'Call us at once if the place where the needle was hurts, swells or changes colour.',
  'call-skin': 'Call us at once if your skin turns red, hurts or blisters.',
  'call-emergency':
    'Call the emergency number at once if you have chest pain or cannot breathe well. Do the same if you faint or get a rash all over.',
  phone: 'Phone of the clinic:',

  'review-title': 'Your next check',
  review: 'Your next check is on {day}.',
  'review-open': 'Your next check is on:',

  'doctor-first': 'What your doctor tells you comes first. Ask us about anything that is not clear.',
  'hours-us': 'The {hours} hours are from the US prescribing information for verteporfin.',
  'hours-eu': 'The {hours} hours are from the European product information for verteporfin.',
  'hours-site': 'The {hours} hours are the rule of this clinic. The product information asks for {productHours} hours.',

  'band-title': 'Verteporfin: keep from bright light until',
  'band-phone': 'Clinic:',
};
