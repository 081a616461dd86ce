/** The only package that may read a clock or wait. */
package org.stopwell.rig.time;
