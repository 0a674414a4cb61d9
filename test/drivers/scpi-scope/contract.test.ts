import { driverContract } from '../contract.js';
import { CONTRACT } from './contract-device.js';

driverContract(CONTRACT);
