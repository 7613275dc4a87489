/**
 * How a bench runs: its segments over threads, the evidence gathered where one fails, the verdict.
 * Internal to this module.
 */
package dev.plumbline.run;
