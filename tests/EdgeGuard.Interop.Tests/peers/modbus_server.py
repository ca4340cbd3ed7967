"""An independent Modbus TCP server for the tests: unit 1, 200 items a table, prints its port, ends with its input.

Holding register a holds a, input register a holds 1000 + a, every third coil and every fifth discrete input is set.
"""
import asyncio
import sys
import threading
import os

from pymodbus.datastore import ModbusSequentialDataBlock, ModbusServerContext, ModbusSlaveContext
from pymodbus.device import ModbusDeviceIdentification
from pymodbus.server.async_io import ModbusTcpServer


def context():
    count = 200
    unit = ModbusSlaveContext(
        co=ModbusSequentialDataBlock(0, [a % 3 == 0 for a in range(count)]),
        di=ModbusSequentialDataBlock(0, [a % 5 == 0 for a in range(count)]),
        hr=ModbusSequentialDataBlock(0, list(range(count))),
        ir=ModbusSequentialDataBlock(0, [1000 + a for a in range(count)]),
        zero_mode=True,
    )
    return ModbusServerContext(slaves={1: unit}, single=False)


def end_with_input():
    sys.stdin.read()
    os._exit(0)


async def main():
    identity = ModbusDeviceIdentification(info_name={
        "VendorName": "EdgeGuard tests", "ProductCode": "PEER", "MajorMinorRevision": "3.0",
    })
    server = ModbusTcpServer(context(), identity=identity, address=("127.0.0.1", 0))
    serving = asyncio.ensure_future(server.serve_forever())
    await server.serving
    print(server.server.sockets[0].getsockname()[1], flush=True)
    await serving


threading.Thread(target=end_with_input, daemon=True).start()
asyncio.run(main())
