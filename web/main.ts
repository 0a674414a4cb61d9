import './app.js';
import { applyLook } from './look.js';
import { readPreferences } from './preferences.js';

applyLook(readPreferences());
