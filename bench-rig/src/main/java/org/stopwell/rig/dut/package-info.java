/** A board under test that decides: the exported controller behind a serial line. */
package org.stopwell.rig.dut;
