package dev.plumbline.models.light;

import dev.plumbline.models.picture.Picture;

/**
 * A whole picture of a scene.
 *
 * @param picture in 24-bit colours
 * @param rays that it took
 */
public record Frame(Picture picture, RayCounts rays) {}
