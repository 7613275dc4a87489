/**
 * How what a DUT gave is held to a contract: checkers, what they expect, and the tallies they keep.
 * Internal to this module.
 */
package dev.plumbline.judge;
