"""The virtual sensors. Each one encodes its values with its own code, not with the program's."""

from __future__ import annotations

import asyncio
import struct

from bumble.core import UUID
from bumble.gatt import Characteristic, CharacteristicValue, Descriptor, Service
from cryptography.hazmat.primitives.ciphers.aead import AESCCM

from radio import FLAGS, Air, Peripheral, ad

READ = Characteristic.Properties.READ
NOTIFY = Characteristic.Properties.NOTIFY
INDICATE = Characteristic.Properties.INDICATE
READABLE = Characteristic.Permissions.READABLE


def es_measurement(sampling: int, application: int, uncertainty: int) -> bytes:
    """ES Measurement 0x290C, 11 bytes."""
    return struct.pack('<HB', 0, sampling) + bytes(6) + bytes([application, uncertainty])


class GattSensor(Peripheral):
    """A sensor whose values are characteristics by key."""

    def __init__(self, air: Air, name: str, address: str) -> None:
        super().__init__(air, name, address)
        self.values: dict[str, bytes] = {}
        self.characteristics: dict[str, Characteristic] = {}
        self.reads: dict[str, int] = {}

    def characteristic(self, key, uuid, value, properties, descriptors=()) -> Characteristic:
        self.values[key] = value

        def read(_connection):
            self.reads[key] = self.reads.get(key, 0) + 1
            return self.values[key]

        made = Characteristic(
            UUID.from_16_bits(uuid) if isinstance(uuid, int) else UUID(uuid),
            properties,
            READABLE,
            CharacteristicValue(read=read),
            [Descriptor(UUID.from_16_bits(u), READABLE, data) for u, data in descriptors],
        )
        self.characteristics[key] = made
        return made

    def battery(self, level: int, properties=READ | NOTIFY) -> Service:
        return Service(
            UUID.from_16_bits(0x180F),
            [self.characteristic('battery', 0x2A19, bytes([level]), properties)],
        )

    async def send(self, key: str, value: bytes) -> None:
        self.values[key] = value
        made = self.characteristics[key]
        if made.properties & INDICATE:
            await self.device.indicate_subscribers(made, value)
        else:
            await self.device.notify_subscribers(made, value)


class Manifold(GattSensor):
    """Environmental Sensing with two pressures and two temperatures, told apart by descriptors."""

    FIRST = ('pressure1', 'pressure2', 'temperature1', 'temperature2')

    def __init__(self, air: Air, name: str, address: str, swapped: bool = False, split: bool = False) -> None:
        super().__init__(air, name, address)
        self.swapped = swapped
        self.split = split
        self.stream_task: asyncio.Task | None = None

    def advertising_data(self) -> bytes:
        return FLAGS + ad(0x03, struct.pack('<H', 0x181A)) + ad(0x09, self.name.encode())

    def services(self) -> list[Service]:
        low = [(0x290C, es_measurement(1, 0x10, 2)), (0x2901, b'Suction pressure')]
        high = [(0x290C, es_measurement(1, 0x0F, 2)), (0x2901, b'Liquid pressure')]
        pipe_low = [(0x290C, es_measurement(2, 0x10, 0xFF)), (0x2901, b'Suction line')]
        pipe_high = [
            (0x290C, es_measurement(2, 0x0F, 0xFF)),
            (0x2901, b'Liquid line'),
            (0x2906, struct.pack('<hh', -4000, 15000)),
        ]
        made = [
            self.characteristic('pressure1', 0x2A6D, struct.pack('<I', 8_136_000), READ | NOTIFY, low),
            self.characteristic('pressure2', 0x2A6D, struct.pack('<I', 24_000_000), READ | NOTIFY, high),
            self.characteristic('temperature1', 0x2A6E, struct.pack('<h', 1210), READ | NOTIFY, pipe_low),
            self.characteristic('temperature2', 0x2A6E, struct.pack('<h', 3530), READ | NOTIFY, pipe_high),
        ]
        if self.swapped:
            made.reverse()
        information = Service(
            UUID.from_16_bits(0x180A),
            [
                self.characteristic('maker', 0x2A29, b'Nobody in particular\x00', READ),
                self.characteristic('model', 0x2A24, b'Virtual', READ),
            ],
        )
        if self.split:
            # Two Environmental Sensing services, as a sensor with two heads may have.
            sensing = [made[:2], made[2:]]
        else:
            sensing = [made]
        services = [Service(UUID.from_16_bits(0x181A), part) for part in sensing]
        return [*services, self.battery(83), information]

    async def change_table(self) -> None:
        """Turns the order of its characteristics round, adds one, and says so (Service Changed)."""
        server = self.device.gatt_server
        old = {key: made.handle for key, made in self.characteristics.items()}
        kept = [s for s in server.services if s.uuid.to_hex_str().lower() in ('1800', '1801')]
        first = min(s.handle for s in server.services if s not in kept)
        server.attributes = [a for a in server.attributes if a.handle < first]
        server.attributes_by_handle = {}
        server.services = kept
        self.swapped = not self.swapped
        services = self.services()
        services[0].characteristics.append(
            self.characteristic('humidity', 0x2A6F, struct.pack('<H', 4550), READ | NOTIFY)
        )
        server.add_services(services)
        assert old['pressure1'] != self.characteristics['pressure1'].handle
        changed = self.device.gatt_service.service_changed_characteristic
        await self.device.indicate_subscribers(changed, struct.pack('<HH', first, 0xFFFF))

    async def stream(self, hz: float, count: int) -> None:
        """Every key `hz` times a second; the value is a counter, so that a loss shows."""
        loop = asyncio.get_running_loop()
        start = loop.time()
        for n in range(count):
            await asyncio.sleep(max(0.0, start + n / hz - loop.time()))
            await self.send('pressure1', struct.pack('<I', 1_000_000 + n))
            await self.send('pressure2', struct.pack('<I', 2_000_000 + n))
            await self.send('temperature1', struct.pack('<h', n - 15_000))
            await self.send('temperature2', struct.pack('<h', n % 15_000))


class Thermometer(Peripheral):
    """Broadcasts BTHome v2, plain or encrypted, and takes no links in practice."""

    def __init__(self, air: Air, name: str, address: str, key: bytes | None = None) -> None:
        super().__init__(air, name, address)
        self.key = key
        self.counter = 0
        self.raw: bytes | None = None
        self.payload = self.objects(2506, 5055)

    def objects(self, centidegrees: int, centipercent: int, packet_id: int | None = None) -> bytes:
        head = b'' if packet_id is None else bytes([0x00, packet_id])
        return (
            head
            + bytes([0x01, 88, 0x02])
            + struct.pack('<h', centidegrees)
            + b'\x03'
            + struct.pack('<H', centipercent)
        )

    def service_data(self) -> bytes:
        if self.raw is not None:
            return self.raw
        if self.key is None:
            return b'\x40' + self.payload
        mac = bytes.fromhex(self.address.replace(':', ''))
        counter = struct.pack('<I', self.counter)
        sealed = AESCCM(self.key, tag_length=4).encrypt(mac + b'\xd2\xfc\x41' + counter, self.payload, None)
        return b'\x41' + sealed[:-4] + counter + sealed[-4:]

    def advertising_data(self) -> bytes:
        return FLAGS + ad(0x16, b'\xd2\xfc' + self.service_data()) + ad(0x08, self.name.encode()[:5])

    async def broadcast(self, payload: bytes) -> None:
        self.payload = payload
        self.counter += 1
        self.raw = None
        await self.advertise()

    async def broadcast_raw(self, data: bytes) -> None:
        """Whatever bytes, as service data 0xFCD2."""
        self.raw = data
        await self.advertise()


class Scale(GattSensor):
    """Weight Scale: indicates, does not allow a read, as the service defines it."""

    def advertising_data(self) -> bytes:
        return FLAGS + ad(0x03, struct.pack('<H', 0x181D)) + ad(0x09, self.name.encode())

    def services(self) -> list[Service]:
        weight = self.characteristic('weight', 0x2A9D, struct.pack('<BH', 0, 0), INDICATE)
        return [Service(UUID.from_16_bits(0x181D), [weight]), self.battery(9)]


class Probe(GattSensor):
    """A sensor of its own kind, after the invented description in fixtures/sensors."""

    SERVICE = '8f1d0001-5a3c-4e2b-9d71-0c2a6b7e4f10'

    def advertising_data(self) -> bytes:
        return FLAGS + ad(0x09, self.name.encode())

    def services(self) -> list[Service]:
        return [
            Service(
                UUID(self.SERVICE),
                [
                    self.characteristic(
                        'pressure', self.SERVICE.replace('0001-', '0002-'), bytes(8), READ | NOTIFY
                    ),
                    self.characteristic(
                        'clamp',
                        self.SERVICE.replace('0001-', '0003-'),
                        struct.pack('<f', 50.0),
                        READ,
                    ),
                ],
            )
        ]


class Locked(GattSensor):
    """A thermometer that answers only over an encrypted link."""

    def advertising_data(self) -> bytes:
        return FLAGS + ad(0x09, self.name.encode())

    def services(self) -> list[Service]:
        made = self.characteristic('temperature', 0x2A6E, struct.pack('<h', 2150), READ)
        made.permissions |= Characteristic.Permissions.READ_REQUIRES_ENCRYPTION
        return [Service(UUID.from_16_bits(0x181A), [made])]
