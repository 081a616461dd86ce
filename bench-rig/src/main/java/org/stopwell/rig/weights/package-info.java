/** The weights that come with the program. */
package org.stopwell.rig.weights;
