import { STATION_WORDS } from '../../core/protocol/frames.ts';
import { defaultDataFolder } from './data-folder.ts';

export interface StationChoices {
  readonly data?: string | undefined;
  readonly practice?: boolean | undefined;
  readonly speed?: string | undefined;
}

/** The station's command line for what a person chose on the carrier's; the station judges the values. */
export function stationWords({ data = defaultDataFolder(), practice = false, speed }: StationChoices): string[] {
  return [
    STATION_WORDS.data,
    data,
    ...(practice ? [STATION_WORDS.practice] : []),
    ...(speed === undefined ? [] : [STATION_WORDS.speed, speed]),
  ];
}
