"""Runs the virtual sensors; takes orders as JSON lines on standard input, answers on the output."""

from __future__ import annotations

import asyncio
import json
import logging
import sys

from radio import Air
from sensors import Locked, Manifold, Probe, Scale, Thermometer

KEY = bytes.fromhex('231d39c1d7cc1ab1aee224cd096db932')


def say(message: dict) -> None:
    sys.stdout.write(json.dumps(message) + '\n')
    sys.stdout.flush()


async def obey(air: Air, sensors: dict, order: dict):
    who = sensors[order['who']]
    match order['do']:
        case 'send':
            await who.send(order['key'], bytes.fromhex(order['hex']))
        case 'set':
            who.values[order['key']] = bytes.fromhex(order['hex'])
        case 'reads':
            return who.reads.get(order['key'], 0)
        case 'stream':
            await who.stream(order['hz'], order['count'])
        case 'att':
            # Whatever bytes, as a packet of the attribute protocol.
            who.device.send_l2cap_pdu(who.connection.handle, 4, bytes.fromhex(order['hex']))
        case 'lose':
            air.lose(who.address)
        case 'vanish':
            await who.vanish(order['seconds'])
        case 'change':
            await who.change_table()
        case 'broadcast':
            await who.broadcast(
                who.objects(order['centidegrees'], order['centipercent'], order.get('packetId'))
            )
        case 'raw':
            await who.broadcast_raw(bytes.fromhex(order['hex']))
        case 'serviceData':
            return who.service_data().hex()
        case 'connected':
            return who.connection is not None
        case other:
            raise ValueError(f'unknown order {other}')
    return None


async def main() -> None:
    logging.basicConfig(stream=sys.stderr, level=logging.ERROR)
    air = Air()
    sensors = {
        'manifold': Manifold(air, 'Manifold A', 'F0:00:00:00:00:01'),
        'second': Manifold(air, 'Manifold B', 'F0:00:00:00:00:02', swapped=True, split=True),
        'scale': Scale(air, 'Scale', 'F0:00:00:00:00:03'),
        'air': Thermometer(air, 'Air T', 'F0:00:00:00:00:04'),
        'secret': Thermometer(air, 'Secret', 'F0:00:00:00:00:05', KEY),
        'probe': Probe(air, 'XPROBE 1', 'F0:00:00:00:00:06'),
        'locked': Locked(air, 'Locked', 'F0:00:00:00:00:07'),
    }
    for sensor in sensors.values():
        await sensor.start()
    say({'ready': True, 'port': await air.serve()})

    loop = asyncio.get_running_loop()
    reader = asyncio.StreamReader(limit=2**20)
    await loop.connect_read_pipe(lambda: asyncio.StreamReaderProtocol(reader), sys.stdin)

    async def run(order: dict) -> None:
        try:
            say({'id': order['id'], 'result': await obey(air, sensors, order)})
        except Exception as error:  # the test is told, whatever it was
            say({'id': order['id'], 'error': f'{type(error).__name__}: {error}'})

    tasks = set()
    while line := await reader.readline():
        task = loop.create_task(run(json.loads(line)))
        tasks.add(task)
        task.add_done_callback(tasks.discard)


asyncio.run(main())
