import { STATION_WORDS } from '../../core/protocol/frames.ts';
import { defaultDataFolder } from './data-folder.ts';

export interface StationChoices {
  readonly data?: string | undefined;
  readonly practice?: boolean | undefined;
  readonly speed?: string | undefined;
  /** Practice with lessons, made-up troubles and a review; faster than real time unless said. */
  readonly guided?: boolean | undefined;
}

const GUIDED_SPEED = '6';

/** The station's command line for what a person chose on the carrier's; the station judges the values. */
export function stationWords(choices: StationChoices): string[] {
  const { data = defaultDataFolder(), guided = false, practice = guided } = choices;
  const { speed = guided ? GUIDED_SPEED : undefined } = choices;
  return [
    STATION_WORDS.data,
    data,
    ...(practice ? [STATION_WORDS.practice] : []),
    ...(speed === undefined ? [] : [STATION_WORDS.speed, speed]),
    ...(guided ? [STATION_WORDS.guided] : []),
  ];
}
