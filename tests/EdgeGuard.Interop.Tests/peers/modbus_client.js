// An independent Modbus TCP client for the tests (npm package jsmodbus). Usage: node modbus_client.js PORT
'use strict';
const net = require('net');
const Modbus = require('jsmodbus');

const socket = new net.Socket();
const client = new Modbus.client.TCP(socket, 1, 3000);

async function run() {
  const bits = async (name, asked, count) => console.log(name, ...(await asked).response.body.valuesAsArray.slice(0, count));
  const words = async (name, asked) => console.log(name, ...(await asked).response.body.valuesAsArray);
  const done = async (name, asked) => { await asked; console.log(name, 'ok'); };
  await bits('01', client.readCoils(3, 4), 4);
  await bits('02', client.readDiscreteInputs(9, 3), 3);
  await words('03', client.readHoldingRegisters(20, 3));
  await words('04', client.readInputRegisters(30, 3));
  await done('05', client.writeSingleCoil(3, false));
  await done('06', client.writeSingleRegister(20, 777));
  await done('0F', client.writeMultipleCoils(4, [true, false, true]));
  await done('10', client.writeMultipleRegisters(21, [0xBEEF, 1, 0xFFFF]));
  await bits('01', client.readCoils(3, 4), 4);
  await words('03', client.readHoldingRegisters(20, 4));
  // Many requests in flight at once: the ids have to come back with the right values.
  const many = await Promise.all(Array.from({ length: 50 }, (_, i) => client.readInputRegisters(i, 1)));
  console.log('many', many.every((a, i) => a.response.body.valuesAsArray[0] === 1000 + i));
  try {
    await client.readHoldingRegisters(199, 2);
    console.log('03 no exception');
  } catch (e) {
    console.log('03 exception', e.response.body.code);
  }
}

socket.on('connect', () => run().then(() => socket.end(), (e) => { console.error(e); process.exit(1); }));
socket.on('error', (e) => { console.error(e); process.exit(1); });
socket.connect({ host: '127.0.0.1', port: Number(process.argv[2]) });
