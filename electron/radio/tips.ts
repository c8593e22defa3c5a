import type { AdapterState } from './messages.ts';

/** What can be amiss with the radio source as a whole. A closed set; the words stand here only. */
export const RADIO_TIPS = {
  RADIO_ABSENT:
    'No Bluetooth adapter was found. Plug one in, or use another source. On Linux the bluetooth service and the kernel’s Bluetooth support must be there.',
  RADIO_OFF:
    'Bluetooth is switched off. Switch it on in the system’s settings; the program goes on by itself.',
  RADIO_UNAUTHORIZED:
    'The system does not let this program use Bluetooth. Allow it in the privacy settings; on Linux the program needs the right to raw network access.',
  RADIO_UNSUPPORTED: 'This adapter knows no Bluetooth Low Energy. Use another one (4.0 or later).',
  RADIO_STARTING: 'Bluetooth is starting.',
  RADIO_RESTARTED: 'The radio process broke off and was started anew; the gap is in the record.',
  NO_SENSORS: 'No sensor is assigned to a channel yet: find and assign sensors first.',
} as const;
export type RadioAlertCode = keyof typeof RADIO_TIPS;

/** The alert that belongs to a state of the adapter; null where it works. */
export function adapterAlert(state: AdapterState): RadioAlertCode | null {
  switch (state) {
    case 'on':
      return null;
    case 'absent':
      return 'RADIO_ABSENT';
    case 'off':
      return 'RADIO_OFF';
    case 'unauthorized':
      return 'RADIO_UNAUTHORIZED';
    case 'unsupported':
      return 'RADIO_UNSUPPORTED';
    case 'unknown':
    case 'resetting':
      return 'RADIO_STARTING';
  }
}
