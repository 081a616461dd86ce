/** Settings as data: a table of parameters, checked once and then immutable. */
package org.stopwell.core.settings;
