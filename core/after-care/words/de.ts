import type { AfterCareWords } from '../sentences.ts';

/** German. No native speaker has read it yet: one does, and the clinic, before the first patient gets it. */
export const DE: AfterCareWords = {
  title: 'Nach Ihrer Behandlung: helles Licht meiden',
  practice: 'PRACTICE: nur zur Übung, nicht für einen Patienten',
  patient: '{code}, geboren am {born}',

  'given-title': 'Was Sie bekommen haben',
  given:
    'Sie haben das Medikament Verteporfin als Infusion in eine Vene bekommen. Die Infusion endete am {day} um {time} Uhr.',
  'light-right': 'Danach wurde ein besonderes Licht in Ihr rechtes Auge gestrahlt.',
  'light-left': 'Danach wurde ein besonderes Licht in Ihr linkes Auge gestrahlt.',
  'light-both': 'Danach wurde ein besonderes Licht in Ihre beiden Augen gestrahlt.',
  'light-none':
    'In Ihr Auge wurde kein Behandlungslicht gestrahlt. Das Medikament haben Sie aber bekommen, darum gilt dieses ganze Blatt für Sie.',

  'until-title': 'Meiden Sie helles Licht bis',
  until: '{day}, {time} Uhr',
  hours:
    'Das sind {hours} Stunden nach dem Ende der Infusion. Bis dahin kann helles Licht Ihre Haut verbrennen und Ihren Augen schaden, auch wenn Sie sich gut fühlen.',

  'avoid-title': 'Was Sie bis dahin meiden',
  sun: 'Meiden Sie direktes Sonnenlicht.',
  lamps: 'Meiden Sie helle Lampen in Räumen, zum Beispiel Halogenlampen und Sonnenbänke.',
  'clinic-lamps':
    'Verschieben Sie Besuche beim Zahnarzt: Die Lampen dort sind für Sie zu hell. Das gilt auch für Lampen bei Operationen.',
  oximeter:
    'Ein Gerät, das auf Ihre Haut leuchtet, darf nicht lange an Ihnen bleiben. Ein solches ist der Fingerclip, der den Sauerstoff misst.',

  'outside-title': 'Wenn Sie am Tag hinaus müssen',
  cover:
    'Bedecken Sie Ihre Haut: lange Ärmel, lange Hosen, Handschuhe und ein Hut mit breitem Rand. Tragen Sie eine dunkle Sonnenbrille.',
  'sun-cream': 'Sonnencreme schützt Sie nicht: Jetzt schadet Ihnen das Licht, das Sie sehen können.',

  'indoors-title': 'Bleiben Sie nicht im Dunkeln',
  indoors: 'Normales Licht im Zimmer ist gut für Sie. Es hilft, das Medikament in Ihrer Haut abzubauen.',

  'also-title': 'Bitte auch',
  wristband: 'Lassen Sie das Armband bis zu der Zeit, die oben steht, am Handgelenk.',
  driving: 'Fahren Sie nicht und bedienen Sie keine Maschinen, solange Sie nicht gut sehen.',

  'surgery-title': 'Wenn Sie vorher operiert werden müssen',
  surgery:
    'Zeigen Sie dieses Blatt und Ihr Armband. Sagen Sie, dass Sie Verteporfin bekommen haben. Das Team soll das Innere Ihres Körpers so gut wie möglich vor starkem Licht schützen.',

  'call-title': 'Wann Sie uns anrufen',
  'call-sight': 'Rufen Sie uns sofort an, wenn Sie plötzlich viel schlechter sehen.',
  'call-vein':
    'Rufen Sie uns sofort an, wenn die Stelle, an der die Nadel war, schmerzt, anschwillt oder sich verfärbt.',
  'call-skin': 'Rufen Sie uns sofort an, wenn Ihre Haut rot wird, schmerzt oder Blasen bekommt.',
  'call-emergency':
    'Rufen Sie sofort den Notruf, wenn Sie Schmerzen in der Brust haben oder schlecht Luft bekommen. Tun Sie das auch, wenn Sie ohnmächtig werden oder am ganzen Körper Ausschlag bekommen.',
  phone: 'Telefon der Klinik:',

  'review-title': 'Ihre nächste Kontrolle',
  review: 'Ihre nächste Kontrolle ist am {day}.',
  'review-open': 'Ihre nächste Kontrolle ist am:',

  'doctor-first': 'Was Ihre Ärztin oder Ihr Arzt Ihnen sagt, geht vor. Fragen Sie uns, wenn etwas nicht klar ist.',
  'hours-us': 'Die {hours} Stunden stammen aus der Fachinformation der USA zu Verteporfin.',
  'hours-eu': 'Die {hours} Stunden stammen aus der europäischen Fachinformation zu Verteporfin.',
  'hours-site':
    'Die {hours} Stunden sind die Regel dieser Klinik. Die Fachinformation verlangt {productHours} Stunden.',

  'band-title': 'Verteporfin: vor hellem Licht schützen bis',
  'band-phone': 'Klinik:',
};
