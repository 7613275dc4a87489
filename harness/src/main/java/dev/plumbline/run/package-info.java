/**
 * How a contract is driven and judged: engines, feeds, checkers, segments. Internal to this module.
 */
package dev.plumbline.run;
