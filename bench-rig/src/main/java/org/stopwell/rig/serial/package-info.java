/** Serial ports, and the bench at the other end of one. The only package that knows jSerialComm. */
package org.stopwell.rig.serial;
