"""The air: one Bumble link with a controller for each peripheral and one for the program."""

from __future__ import annotations

import asyncio

from bumble import hci, ll
from bumble.controller import Controller
from bumble.device import Connection, Device
from bumble.gatt import Service
from bumble.host import Host
from bumble.link import LocalLink
from bumble.transport.common import AsyncPipeSink

SCANNER_ADDRESS = 'C0:00:00:00:00:01'
RSSI = -61


class ScannerController(Controller):
    """The program's adapter: adds the two commands that Bumble's controller does not answer."""

    def on_hci_read_rssi_command(self, command):
        return hci.HCI_Read_RSSI_ReturnParameters(
            status=hci.HCI_ErrorCode.SUCCESS, handle=command.handle, rssi=RSSI
        )

    def on_hci_le_create_connection_cancel_command(self, _command):
        pending = self.pending_le_connection
        self.pending_le_connection = None
        if pending:
            asyncio.get_running_loop().call_soon(
                self.send_hci_packet,
                hci.HCI_LE_Connection_Complete_Event(
                    status=hci.HCI_ErrorCode.UNKNOWN_CONNECTION_IDENTIFIER_ERROR,
                    connection_handle=0,
                    role=hci.Role.CENTRAL,
                    peer_address_type=pending.peer_address.address_type,
                    peer_address=pending.peer_address,
                    connection_interval=0,
                    peripheral_latency=0,
                    supervision_timeout=0,
                    central_clock_accuracy=0,
                ),
            )
        return hci.HCI_StatusReturnParameters(hci.HCI_ErrorCode.SUCCESS)


class TcpSink:
    """Carries what the controller says to the program, packet by packet."""

    def __init__(self, writer: asyncio.StreamWriter) -> None:
        self.writer = writer

    def on_packet(self, packet: bytes) -> None:
        self.writer.write(packet)


async def read_h4(reader: asyncio.StreamReader) -> bytes:
    """One HCI packet with its type byte (UART transport, Core Specification Vol 4 Part A)."""
    kind = await reader.readexactly(1)
    if kind[0] == hci.HCI_COMMAND_PACKET:
        header = await reader.readexactly(3)
        length = header[2]
    elif kind[0] == hci.HCI_ACL_DATA_PACKET:
        header = await reader.readexactly(4)
        length = int.from_bytes(header[2:4], 'little')
    else:
        raise ValueError(f'packet type {kind[0]} from the program')
    return kind + header + await reader.readexactly(length)


class Air:
    """The link all controllers share, and the socket where the program's adapter is reached."""

    def __init__(self) -> None:
        self.link = LocalLink()
        self.scanner: Controller | None = None

    async def serve(self) -> int:
        server = await asyncio.start_server(self.on_program, '127.0.0.1', 0)
        return server.sockets[0].getsockname()[1]

    async def on_program(self, reader, writer) -> None:
        controller = ScannerController('scanner', link=self.link, public_address=SCANNER_ADDRESS)
        controller.le_features &= ~hci.LeFeatureMask.LE_EXTENDED_ADVERTISING
        # Bumble's link sends data under the random address; noble connects with the public one.
        controller.random_address = controller.public_address
        controller.host = TcpSink(writer)
        self.scanner = controller
        try:
            while True:
                controller.on_packet(await read_h4(reader))
        except (asyncio.IncompleteReadError, ConnectionError):
            pass
        finally:
            # The program is gone; to the sensors its links have timed out.
            controller.host = None
            for connection in list(controller.le_connections.values()):
                self.break_link(controller, connection)
            self.link.remove_controller(controller)
            writer.close()

    def lose(self, address: str) -> None:
        """Breaks the link to a peripheral as a supervision timeout does."""
        if self.scanner is None:
            return
        for connection in list(self.scanner.le_connections.values()):
            if str(connection.peer_address).startswith(address):
                self.break_link(self.scanner, connection)

    @staticmethod
    def break_link(controller: Controller, connection) -> None:
        reason = hci.HCI_ErrorCode.CONNECTION_TIMEOUT_ERROR
        connection.send_ll_control_pdu(ll.TerminateInd(reason))
        controller.on_le_disconnected(connection, reason)


class Peripheral:
    """A sensor: a device on the air that advertises again whenever it is free."""

    INTERVAL_MS = 100

    def __init__(self, air: Air, name: str, address: str) -> None:
        self.air = air
        self.name = name
        self.address = address
        controller = Controller(name, link=air.link, public_address=address)
        controller.le_features &= ~hci.LeFeatureMask.LE_EXTENDED_ADVERTISING
        self.device = Device(
            name=name,
            address=hci.Address(address),
            host=Host(controller, AsyncPipeSink(controller)),
        )
        self.device.on(Device.EVENT_CONNECTION, self.on_connection)
        self.connection: Connection | None = None
        self.present = True

    def services(self) -> list[Service]:
        return []

    def advertising_data(self) -> bytes:
        raise NotImplementedError

    async def start(self) -> None:
        self.device.add_services(self.services())
        await self.device.power_on()
        await self.advertise()

    def on_connection(self, connection: Connection) -> None:
        self.connection = connection
        connection.on(Connection.EVENT_DISCONNECTION, self.on_disconnection)

    def on_disconnection(self, _reason: int) -> None:
        self.connection = None
        if self.present:
            asyncio.get_running_loop().create_task(self.advertise())

    async def advertise(self) -> None:
        if self.device.is_advertising:
            await self.device.stop_advertising()
        if not self.present or self.connection is not None:
            return
        await self.device.start_advertising(
            own_address_type=hci.OwnAddressType.RANDOM,
            advertising_data=self.advertising_data(),
            advertising_interval_min=self.INTERVAL_MS,
            advertising_interval_max=self.INTERVAL_MS,
        )

    async def vanish(self, seconds: float) -> None:
        """Out of range for a while: the link times out and nothing is heard."""
        self.present = False
        if self.device.is_advertising:
            await self.device.stop_advertising()
        self.air.lose(self.address)
        await asyncio.sleep(seconds)
        self.present = True
        await self.advertise()


def ad(kind: int, data: bytes) -> bytes:
    """One AD structure of an advertisement."""
    return bytes([1 + len(data), kind]) + data


FLAGS = ad(0x01, b'\x06')
