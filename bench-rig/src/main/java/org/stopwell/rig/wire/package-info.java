/** The wire protocol: one table of messages, and the codec that reads it. No I/O, no clock. */
package org.stopwell.rig.wire;
