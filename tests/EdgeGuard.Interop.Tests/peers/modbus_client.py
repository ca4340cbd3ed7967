"""An independent Modbus client for the tests: every function once against a server like that of modbus_server.py.

Usage: modbus_client.py tcp PORT | rtu-tcp PORT | serial DEVICE; prints one line for each answer.
"""
import sys

from pymodbus.client import ModbusSerialClient, ModbusTcpClient
from pymodbus.diag_message import ReturnQueryDataRequest
from pymodbus.mei_message import ReadDeviceInformationRequest
from pymodbus.other_message import ReadExceptionStatusRequest
from pymodbus.transaction import ModbusRtuFramer, ModbusSocketFramer

UNIT = 1


def connect(kind, where):
    if kind == "serial":
        return ModbusSerialClient(where, framer=ModbusRtuFramer, baudrate=19200, parity="E", timeout=3, strict=False)
    framer = ModbusRtuFramer if kind == "rtu-tcp" else ModbusSocketFramer
    return ModbusTcpClient("127.0.0.1", port=int(where), framer=framer, timeout=3)


def tell(name, answer, values=None):
    if answer.isError():
        print(name, "failed:", answer)
    else:
        print(name, *(values(answer) if values else ["ok"]))


def bits(count):
    return lambda answer: [int(bit) for bit in answer.bits[:count]]


def words(answer):
    return answer.registers


def text(answer):
    return [f"{key}={value.decode()}" for key, value in sorted(answer.information.items())]


client = connect(sys.argv[1], sys.argv[2])
client.connect()
tell("01", client.read_coils(3, 4, slave=UNIT), bits(4))
tell("02", client.read_discrete_inputs(9, 3, slave=UNIT), bits(3))
tell("03", client.read_holding_registers(20, 3, slave=UNIT), words)
tell("04", client.read_input_registers(30, 3, slave=UNIT), words)
tell("05", client.write_coil(3, False, slave=UNIT))
tell("06", client.write_register(20, 777, slave=UNIT))
tell("0F", client.write_coils(4, [True, False, True], slave=UNIT))
tell("10", client.write_registers(21, [0xBEEF, 1, 0xFFFF], slave=UNIT))
tell("16", client.mask_write_register(25, 0xF2, 0x25, unit=UNIT))
tell("17", client.readwrite_registers(read_address=20, read_count=7, write_address=26, write_registers=[0xBEEF], unit=UNIT), words)
tell("07", client.execute(ReadExceptionStatusRequest(unit=UNIT)), lambda answer: [answer.status])
tell("08", client.execute(ReturnQueryDataRequest([0xA537], unit=UNIT)), lambda answer: answer.message)
tell("2B", client.execute(ReadDeviceInformationRequest(read_code=1, unit=UNIT)), text)
tell("01", client.read_coils(3, 4, slave=UNIT), bits(4))
answer = client.read_holding_registers(199, 2, slave=UNIT)
print("03 exception", answer.exception_code)
client.close()
