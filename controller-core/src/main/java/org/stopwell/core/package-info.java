/** The control core and its one entry point. */
package org.stopwell.core;
