/**
 * The part of noble that is used, as its 1.9 sources define it. `services*Discovered` events and
 * `addServices`/`addCharacteristics` are there only with bindings that know attribute handles.
 */
export interface NobleAdvertisement {
  readonly localName?: string | undefined;
  readonly serviceUuids?: readonly string[] | undefined;
  readonly serviceData?: readonly { readonly uuid: string; readonly data: Buffer }[] | undefined;
  readonly manufacturerData?: Buffer | undefined;
}

interface Emitter {
  on(event: string, fn: (...args: never[]) => void): unknown;
  once(event: string, fn: (...args: never[]) => void): unknown;
  removeListener(event: string, fn: (...args: never[]) => void): unknown;
}

export interface NobleDescriptor extends Emitter {
  readonly uuid: string;
  readValueAsync(): Promise<Buffer>;
}

export interface NobleCharacteristic extends Emitter {
  readonly uuid: string;
  /** Names; a number of flags where the characteristic was added by its handle. */
  readonly properties: readonly string[] | number;
  readAsync(): Promise<Buffer>;
  subscribeAsync(): Promise<void>;
  discoverDescriptorsAsync(): Promise<readonly NobleDescriptor[]>;
}

export interface NobleService extends Emitter {
  readonly uuid: string;
  discoverCharacteristicsAsync(uuids: readonly string[]): Promise<readonly NobleCharacteristic[]>;
}

/** A service as the attribute table has it. */
export interface RawService {
  readonly uuid: string;
  readonly startHandle: number;
  readonly endHandle: number;
}

/** A characteristic as the attribute table has it. */
export interface RawCharacteristic {
  readonly uuid: string;
  readonly properties: number;
  readonly startHandle: number;
  readonly valueHandle: number;
  readonly endHandle: number;
}

export interface NoblePeripheral extends Emitter {
  readonly id: string;
  readonly address: string;
  /** A number of flags with extended advertising. */
  readonly connectable: boolean | number;
  readonly advertisement: NobleAdvertisement;
  readonly rssi: number;
  readonly state: string;
  connectAsync(): Promise<void>;
  cancelConnect(): void;
  disconnect(): void;
  updateRssiAsync(): Promise<number>;
  discoverServicesAsync(uuids: readonly string[]): Promise<readonly NobleService[]>;
}

export interface Noble extends Emitter {
  /** Reading it starts the bindings. */
  readonly state: string;
  startScanning(services: readonly string[], duplicates: boolean): void;
  stopScanning(): void;
  addServices?(peripheral: string, services: readonly RawService[]): readonly NobleService[];
  addCharacteristics?(
    peripheral: string,
    service: string,
    characteristics: readonly RawCharacteristic[],
  ): readonly NobleCharacteristic[] | undefined;
}
