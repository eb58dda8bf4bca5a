import type { AfterCareWords } from '../sentences.ts';

/** Spanish. No native speaker has read it yet: one does, and the clinic, before the first patient gets it. */
export const ES: AfterCareWords = {
  title: 'Después de su tratamiento: evite la luz intensa',
  practice: 'PRACTICE: solo de práctica, no es para un paciente',
  patient: '{code}, fecha de nacimiento: {born}',

  'given-title': 'Qué le hemos dado',
  given:
    'Usted ha recibido el medicamento verteporfina por perfusión en una vena. La perfusión terminó el {day} a las {time} h.',
  'light-right': 'Después se aplicó una luz especial en su ojo derecho.',
  'light-left': 'Después se aplicó una luz especial en su ojo izquierdo.',
  'light-both': 'Después se aplicó una luz especial en sus dos ojos.',
  'light-none':
    'No se aplicó la luz del tratamiento en su ojo. Pero usted sí recibió el medicamento, por eso toda esta hoja es para usted.',

  'until-title': 'Evite la luz intensa hasta',
  until: '{day}, a las {time} h',
  hours:
    'Son {hours} horas desde el final de la perfusión. Hasta entonces la luz intensa puede quemarle la piel y dañarle los ojos, aunque se sienta bien.',

  'avoid-title': 'Qué debe evitar hasta entonces',
  sun: 'Evite la luz directa del sol.',
  lamps: 'Evite las lámparas intensas en interiores, como las halógenas y las de bronceado.',
  'clinic-lamps':
    'Aplace las visitas al dentista: sus lámparas son demasiado intensas para usted. También lo son las de los quirófanos.',
  oximeter:
    'Un aparato que ilumina la piel no debe quedarse puesto mucho tiempo. Uno de ellos es la pinza del dedo que mide el oxígeno.',

  'outside-title': 'Si tiene que salir de día',
  cover:
    'Cúbrase la piel: manga larga, pantalón largo, guantes y un sombrero de ala ancha. Lleve gafas de sol oscuras.',
  'sun-cream': 'La crema solar no le protege: ahora le hace daño la luz que usted puede ver.',

  'indoors-title': 'No se quede a oscuras',
  indoors: 'La luz normal de una habitación es buena para usted. Ayuda a eliminar el medicamento de la piel.',

  'also-title': 'Además',
  wristband: 'Lleve puesta la pulsera hasta la hora indicada arriba.',
  driving: 'No conduzca ni use máquinas mientras no vea bien.',

  'surgery-title': 'Si necesita una operación antes de esa hora',
  surgery:
    'Enseñe esta hoja y su pulsera. Diga que ha recibido verteporfina. El equipo debe proteger el interior de su cuerpo de la luz intensa tanto como pueda.',

  'call-title': 'Cuándo debe llamarnos',
  'call-sight': 'Llámenos enseguida si de repente ve mucho peor.',
  'call-vein': 'Llámenos enseguida si el lugar del pinchazo le duele, se hincha o cambia de color.',
  'call-skin': 'Llámenos enseguida si la piel se pone roja, le duele o le salen ampollas.',
  'call-emergency':
    'Llame enseguida al número de emergencias si tiene dolor en el pecho o respira mal. Haga lo mismo si se desmaya o le sale un sarpullido por todo el cuerpo.',
  phone: 'Teléfono de la clínica:',

  'review-title': 'Su próxima revisión',
  review: 'Su próxima revisión es el {day}.',
  'review-open': 'Su próxima revisión es el:',

  'doctor-first': 'Lo que le diga su médico va primero. Pregúntenos si algo no está claro.',
  'hours-us': 'Las {hours} horas son las de la ficha técnica de verteporfina en los Estados Unidos.',
  'hours-eu': 'Las {hours} horas son las de la ficha técnica europea de verteporfina.',
  'hours-site': 'Las {hours} horas son la norma de esta clínica. La ficha técnica pide {productHours} horas.',

  'band-title': 'Verteporfina: proteger de la luz intensa hasta',
  'band-phone': 'Clínica:',
};
