import { driverContract } from '../contract.js';
import { CONTRACT, WITHOUT_COILS } from './contract-device.js';

driverContract(CONTRACT);
driverContract(WITHOUT_COILS);
