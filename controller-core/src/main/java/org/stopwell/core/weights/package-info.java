/**
 * What policy {@code approach} was taught: its networks in whole numbers, their bound, their file.
 */
package org.stopwell.core.weights;
