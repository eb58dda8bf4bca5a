/** The fixed channels between a window's preload and the shell. */
export const CHANNELS = {
  /** Window to shell: one message for the station. */
  toStation: 'dimroom:to-station',
  /** Window to shell: the page is there and wants the present. */
  joined: 'dimroom:joined',
  /** Shell to window: one message from the station. */
  fromStation: 'dimroom:from-station',
  /** Shell to window: whether the station can be reached. */
  link: 'dimroom:link',
  /** Shell to window: where the board is. */
  board: 'dimroom:board',
  /** Console to shell, answered: console and board are to change places. */
  swap: 'dimroom:swap',
} as const;
