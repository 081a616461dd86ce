/** Canals, fluids, files, hands and front ends as they occur, drawn by seed. */
package org.stopwell.rig.population;
