/** The channels between the preload script and the main process. */
export const IPC = {
  call: 'stillpoint:call',
  event: 'stillpoint:event',
  join: 'stillpoint:join',
  acknowledge: 'stillpoint:acknowledge',
} as const;
