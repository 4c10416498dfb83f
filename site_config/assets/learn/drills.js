// The page of drills: a set of ten, what is due, how far somebody is, a sheet for who signs.

import { practice } from "./practised.js";
import { part } from "../page/element.js";

const place = part(document, "[data-drills]");
place.dataset.practised = String(practice().done.length);
place.hidden = false;
