import type { AfterCareWords } from '../sentences.ts';

/**
 * French. No native speaker has read it yet: one does, and the clinic, before the first patient gets it. Before a colon
 * stands a space at which no line breaks.
 */
export const FR: AfterCareWords = {
  title: 'Après votre traitement\u00a0: évitez la lumière forte',
  practice: 'PRACTICE\u00a0: pour l’exercice seulement, pas pour un patient',
  patient: '{code}, date de naissance\u00a0: {born}',

  'given-title': 'Ce que vous avez reçu',
  given:
    'Vous avez reçu le médicament vertéporfine par perfusion dans une veine. La perfusion s’est terminée le {day} à {time}.',
  'light-right': 'Ensuite, une lumière spéciale a été dirigée dans votre œil droit.',
  'light-left': 'Ensuite, une lumière spéciale a été dirigée dans votre œil gauche.',
  'light-both': 'Ensuite, une lumière spéciale a été dirigée dans vos deux yeux.',
  'light-none':
    'La lumière du traitement n’a pas été dirigée dans votre œil. Mais vous avez reçu le médicament\u00a0: toute cette feuille est donc pour vous.',

  'until-title': 'Évitez la lumière forte jusqu’au',
  until: '{day}, à {time}',
  hours:
    'C’est {hours} heures après la fin de la perfusion. Jusque-là, une lumière forte peut brûler votre peau et abîmer vos yeux, même si vous vous sentez bien.',

  'avoid-title': 'Ce que vous devez éviter jusque-là',
  sun: 'Évitez la lumière directe du soleil.',
  lamps: 'Évitez les lampes fortes à l’intérieur, comme les lampes halogènes et les lampes à bronzer.',
  'clinic-lamps':
    'Remettez à plus tard vos visites chez le dentiste\u00a0: ses lampes sont trop fortes pour vous. Celles d’une salle d’opération aussi.',
  oximeter:
    'Un appareil qui éclaire la peau ne doit pas rester longtemps sur vous. C’est le cas de la pince au doigt qui mesure l’oxygène.',

  'outside-title': 'Si vous devez sortir de jour',
  cover:
    'Couvrez votre peau\u00a0: manches longues, pantalon long, gants et chapeau à large bord. Portez des lunettes de soleil foncées.',
  'sun-cream':
    'La crème solaire ne vous protège pas\u00a0: c’est la lumière visible qui vous fait du mal en ce moment.',

  'indoors-title': 'Ne restez pas dans le noir',
  indoors: 'La lumière normale d’une pièce est bonne pour vous. Elle aide à éliminer le médicament de la peau.',

  'also-title': 'Aussi',
  wristband: 'Gardez le bracelet jusqu’à l’heure indiquée en haut.',
  driving: 'Ne conduisez pas et n’utilisez pas de machines tant que vous ne voyez pas bien.',

  'surgery-title': 'Si vous devez être opéré avant cette heure',
  surgery:
    'Montrez cette feuille et votre bracelet. Dites que vous avez reçu de la vertéporfine. L’équipe doit protéger l’intérieur de votre corps de la lumière forte autant que possible.',

  'call-title': 'Quand nous appeler',
  'call-sight': 'Appelez-nous tout de suite si, soudain, vous voyez beaucoup moins bien.',
  'call-vein': 'Appelez-nous tout de suite si l’endroit de la piqûre fait mal, gonfle ou change de couleur.',
  'call-skin': 'Appelez-nous tout de suite si votre peau devient rouge, fait mal ou a des cloques.',
  'call-emergency':
    'Appelez tout de suite le numéro d’urgence si vous avez mal dans la poitrine ou si vous respirez mal. Faites de même si vous vous évanouissez ou si vous avez des boutons sur tout le corps.',
  phone: 'Téléphone de la clinique\u00a0:',

  'review-title': 'Votre prochain contrôle',
  review: 'Votre prochain contrôle est le {day}.',
  'review-open': 'Votre prochain contrôle est le\u00a0:',

  'doctor-first': 'Ce que votre médecin vous dit passe avant. Demandez-nous si quelque chose n’est pas clair.',
  'hours-us': 'Les {hours} heures viennent de la notice officielle des États-Unis pour la vertéporfine.',
  'hours-eu': 'Les {hours} heures viennent du résumé européen des caractéristiques de la vertéporfine.',
  'hours-site': 'Les {hours} heures sont la règle de cette clinique. Le texte officiel demande {productHours} heures.',

  'band-title': 'Vertéporfine\u00a0: protéger de la lumière forte jusqu’au',
  'band-phone': 'Clinique\u00a0:',
};
