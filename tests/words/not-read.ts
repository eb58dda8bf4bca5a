/** Text in the program that stands on no screen as it is: parts of sentences that are listed whole, and names. */
export const NOT_READ: readonly string[] = [
  // Put together with what stands before or after; the whole sentences are listed.
  ...[': light overdue', ': light is due', 'of {} J/cm²', 'held ·', 'since {}', ', the lowest: it is never silent'],
  ...[', the highest', '{}; {}; {}; {} of {} {} treated', 'entry is', 'entries are', ', who has left', 'or', ', then'],
  ...[
    ', disc at {}',
    '; empty for “{}”',
    'again',
    "The {} eye's spot",
    'reach {} um over the edge of the disc',
    'end {} um from the disc',
  ],
  ...[
    '{} um at {} mW/cm2 for {} s, {} J/cm2',
    'lens factor entered',
    'spot on the retina',
    'second eye: no limit published',
    'second eye by {} min',
    '{} cm and {} kg',
  ],
  ...['{} eye, then {}', '{} eye: {}', '{}: unusual together (body mass index {}). Measure again, or confirm.'],
  // Begun with a small letter where they are shown.
  ...['Enter the {}.', 'Enter the {} as one figure, for example 71.5 or 71,5; "{}" is not one.'],
  ...['Enter the height as feet and inches, for example 5 8; "{}" is not that.'],
  // Begun with a capital where they are shown.
  ...['where, how large, about how much went beside the vein, what was done, what the physician decided'],
  ...['where it hurt, how long, what was done, whether the infusion went on'],
  ...['what was seen, times, what was given, who decided, how the patient was afterwards'],
  ...['what the pump said, what was found, how long it stood still'],
  ...['how far the spot was off and for how long, what was decided'],
  // Names within the program.
  ...[
    'at once',
    'next session',
    'the setting {} is no figure with limits',
    'broken line',
    'as typed',
    'second monitor',
    'form {} {}',
    'first run',
    'swap displays',
    'light at',
  ],
  ...['dimroom cues', 'infusion end', 'flush end', 'flushing ahead', 'infusing ahead', 'read sessions', 'print sheets'],
  ...['look after the ledger', 'second eye limit', 'exposure, {} eye'],
  ...[
    'waiting for the window',
    'taking the beam off',
    'stopping the pump',
    'putting the weight right',
    'which {}',
    'when {}',
  ],
  // The ledger's, and of a file's own words, which are English.
  ...[', or null for “{}”', 'one of {}{}', 'as a share', '{}, without the unit'],
  ...['practice, made up: {}', 'practice: a made-up trouble that this version does not know'],
  ...['not saved: it arrived changed on the way; export it again', 'name the entry by its number'],
  ...['local practice: no source asks for it', '4 h in use: EU-SmPC. That it sounds: {}', 'local policy'],
  ...["20 min from the infusion's start: EU-SmPC. That it sounds: {}", 'common practice, no source'],
  // Spoken, and on no screen.
  ...['Sound check.', 'Prueba de sonido.', 'Essai du son.', 'Con retraso.', 'En retard.'],
  // Said by what is never given to the program by a screen.
  ...[
    'there is no made-up trouble "{}"',
    'no key is bound to "{}"',
    'there is no check "{}"',
    'there is no trouble card "{}"',
    'no pump runs without a plan',
  ],
  ...['no infusion begins without an order and a plan', 'an order is entered with its regimen and lesions'],
  ...['a session record has always reached a state', 'Greatest linear dimension', 'Set spot', 'Lens factor entered'],
  ...['Factor of the lens on the eye', 'Light cannot start before the infusion has ended.'],
  ...['The limit for the second eye must lie after the light of the first.'],
  ...['Fluence must be irradiance times seconds, within 1 %.', 'No regimen is called "{}"; choose one of: {}.'],
];
