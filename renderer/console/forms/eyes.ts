import { CAMERA_MAGNIFICATION_RECOMMENDED, LIGHT_LIMITS, lesionUmFromImage, spotUm } from '../../../core/light/spot.ts';
import type { Eye } from '../../../core/procedure/commands.ts';
import type { ChoiceField, Field, Values } from '../../parts/field.ts';
import { figureReader } from './entries.ts';

/** Which eyes, in the order of treatment, as one choice. */
const EYES: Readonly<Record<string, readonly Eye[]>> = {
  right: ['right'],
  left: ['left'],
  'right, left': ['right', 'left'],
  'left, right': ['left', 'right'],
};

const eyesField: ChoiceField = {
  kind: 'choice',
  name: 'eyes',
  words: 'eye, in turn',
  options: Object.keys(EYES).map((value) => ({ value, words: value })),
};

/** On the retina, or on an image that a camera has magnified. */
const measuredOnField: ChoiceField = {
  kind: 'choice',
  name: 'measuredOn',
  words: 'lesion measured',
  options: [
    { value: 'retina', words: 'on the retina' },
    { value: 'image', words: 'on an image' },
  ],
};

const magnificationField: Field = {
  kind: 'figure',
  name: 'magnification',
  words: 'camera magnifies',
  unit: '×',
  hint: `${CAMERA_MAGNIFICATION_RECOMMENDED.min} to ${CAMERA_MAGNIFICATION_RECOMMENDED.max} is recommended`,
};

export const EMPTY_LESIONS: Values = { eyes: '', measuredOn: 'retina' };

const gldName = (eye: Eye): string => `gld-${eye}`;
const imageName = (eye: Eye): string => `image-${eye}`;
const discName = (eye: Eye): string => `disc-${eye}`;

export const eyesIn = (values: Values): readonly Eye[] => EYES[values.eyes ?? ''] ?? [];
const isOnImage = (values: Values): boolean => values.measuredOn === 'image';

export function lesionFields(values: Values): readonly Field[] {
  const eyes = eyesIn(values);
  if (eyes.length === 0) return [eyesField];
  const onImage = isOnImage(values);
  return [
    eyesField,
    measuredOnField,
    ...(onImage ? [magnificationField] : []),
    ...eyes.flatMap((eye) => [onImage ? imageField(eye, values) : gldField(eye, values), discField(eye)]),
  ];
}

const gldField = (eye: Eye, values: Values): Field => ({
  kind: 'figure',
  name: gldName(eye),
  words: `${eye} eye, lesion GLD`,
  unit: 'µm on the retina',
  hint: comesTo(eye, values),
});

const imageField = (eye: Eye, values: Values): Field => ({
  kind: 'figure',
  name: imageName(eye),
  words: `${eye} eye, lesion GLD`,
  unit: 'mm on the image',
  hint: comesTo(eye, values),
});

const discField = (eye: Eye): Field => ({
  kind: 'figure',
  name: discName(eye),
  words: `${eye} eye, to the disc`,
  unit: 'µm from nasal edge, if near',
});

type Reader = ReturnType<typeof figureReader>;

/** The lesions as typed; faults go to the reader. */
export function readLesions(values: Values, reader: Reader) {
  const eyes = eyesIn(values);
  if (eyes.length === 0) reader.wrong('eyes', 'choose the eye, by its number');
  if ((values.regimenId ?? '') === '') reader.wrong('regimenId', 'choose the regimen, by its number');
  return eyes.map((eye) => ({ eye, ...readSize(eye, values, reader), ...readDisc(eye, values, reader) }));
}

const GLD = 'greatest linear dimension';

function readSize(eye: Eye, values: Values, reader: Reader) {
  if (!isOnImage(values))
    return { gldUm: reader.figure(gldName(eye), values[gldName(eye)], GLD, LIGHT_LIMITS.gldUm, 'µm') };
  const { imageMm: mm, cameraMagnification: times } = LIGHT_LIMITS;
  const cameraMagnification = reader.figure(
    'magnification',
    values.magnification,
    'camera magnification',
    times,
    'times',
  );
  const imageMm = reader.figure(imageName(eye), values[imageName(eye)], 'lesion on the image', mm, 'mm');
  const { min, max } = LIGHT_LIMITS.gldUm;
  const gldUm = onRetinaUm(imageMm, cameraMagnification);
  if (gldUm < min || gldUm > max)
    reader.wrong(imageName(eye), `${GLD} would be ${gldUm} µm on the retina: look at the unit`);
  return { imageMm, cameraMagnification };
}

/** To the micrometre, as the station takes it. NaN where a figure is missing. */
const onRetinaUm = (imageMm: number, cameraMagnification: number): number =>
  Number.isFinite(imageMm) && Number.isFinite(cameraMagnification)
    ? Math.round(lesionUmFromImage(imageMm, cameraMagnification))
    : Number.NaN;

const DISC = { min: 0, max: 20_000 } as const;

function readDisc(eye: Eye, values: Values, reader: Reader) {
  const typed = values[discName(eye)] ?? '';
  if (typed.trim() === '') return {};
  return { discDistanceUm: reader.figure(discName(eye), typed, 'distance to the disc', DISC, 'µm') };
}

/** What a lesion comes to, as far as it is typed: on the retina where it was measured on an image, else its spot. */
function comesTo(eye: Eye, values: Values): string {
  const size = readSize(eye, values, figureReader());
  const gldUm = 'gldUm' in size ? size.gldUm : onRetinaUm(size.imageMm, size.cameraMagnification);
  const { min, max } = LIGHT_LIMITS.gldUm;
  if (!(gldUm >= min && gldUm <= max)) return '';
  return isOnImage(values) ? `= ${gldUm} µm` : `· spot ${spotUm(gldUm)} µm`;
}

/** The values with which a form begins on lesions that are known. */
export const lesionValues = (
  eyes: readonly Eye[],
  lesions: readonly { readonly eye: Eye; readonly gldUm: number }[],
): Values => ({
  ...EMPTY_LESIONS,
  eyes: eyes.join(', '),
  ...Object.fromEntries(lesions.map(({ eye, gldUm }) => [gldName(eye), String(gldUm)])),
});
