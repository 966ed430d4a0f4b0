<?xml version="1.0" encoding="UTF-8"?>
<!-- SPDX-License-Identifier: GPL-3.0-or-later -->
<!-- The drill: what to do in order, in an owner's words, with the figures of this rig. One template a step. -->
<xsl:stylesheet version="1.0" xmlns:xsl="http://www.w3.org/1999/XSL/Transform">

  <xsl:template match="drill">
    <ol class="drill">
      <xsl:choose>
        <xsl:when test="../@action = 'launch'">
          <li>Away from the ramp, on level ground: bung in, engine up, tie-downs off<xsl:if test="../@ties = 'on'"> (the transom ties stay on until their step below)</xsl:if>; <strong>strap and chain stay on</strong>. Unplug the lamps. <xsl:call-template name="hubs"/></li>
          <li>Look at today's water and at the slab. Passengers out, driver's belt off, windows down; nobody behind the boat.</li>
        </xsl:when>
        <xsl:otherwise>
          <li>Walk down and look at today's water and the slab. Unplug the lamps. <xsl:call-template name="hubs"/></li>
          <li>Passengers out of the vehicle, driver's belt off, windows down. The helmsman wears the kill cord; nobody stands between boat and trailer.</li>
        </xsl:otherwise>
      </xsl:choose>
      <xsl:if test="../@action = 'retrieve' and start">
        <li>Back the trailer in until the water stands <strong><xsl:apply-templates select="start" mode="q"/></strong> over its hub; foot brake, then park lock.<xsl:call-template name="band"><xsl:with-param name="depth" select="start"/></xsl:call-template></li>
      </xsl:if>
      <xsl:for-each select="step"><li><xsl:apply-templates select="."/></li></xsl:for-each>
      <xsl:choose>
        <xsl:when test="../@action = 'launch'">
          <li>Make the boat fast, drive the empty trailer up to level ground, and clear the ramp for the next.</li>
        </xsl:when>
        <xsl:otherwise>
          <li>On level ground: wind the strap home again, safety chain and tie-downs on, bung out, engine on its bracket, lamps plugged in and tried.</li>
        </xsl:otherwise>
      </xsl:choose>
      <li>Afterwards rinse brakes and bearings, try the brakes at walking speed, look at the wheel nuts.</li>
    </ol>
  </xsl:template>

  <xsl:template name="hubs">
    <xsl:choose>
      <xsl:when test="../marks/place[@name = 'least']/hub/@value &gt; 0">Let the hubs cool: they come <xsl:apply-templates select="../marks/place[@name = 'least']/hub" mode="q"/> under water at least.</xsl:when>
      <xsl:otherwise>Let the hubs cool before they come under water.</xsl:otherwise>
    </xsl:choose>
  </xsl:template>

  <!-- How a depth of the procedure lies to the mark and to what the ramp allows. -->
  <xsl:template name="band">
    <xsl:param name="depth"/>
    <xsl:variable name="marks" select="ancestor-or-self::run/marks"/>
    <xsl:variable name="best" select="$marks/place[@name = 'best']/hub"/>
    <xsl:variable name="least" select="$marks/place[@name = 'least']/hub"/>
    <xsl:variable name="most" select="$marks/place[@name = 'most']/hub"/>
    <xsl:variable name="value" select="$depth/@value * (1 + 999 * number(substring-after($depth/metric, ' ') = 'm'))"/>
    <xsl:if test="$best/@value">
      <xsl:choose>
        <xsl:when test="$least/@value &gt; $value or $value &gt; $most/@value"><xsl:text> </xsl:text><strong>This run does not stand where the ramp's own answer is</strong>: your mark at <xsl:apply-templates select="$best" mode="q"/>, and from <xsl:apply-templates select="$least" mode="q"/> to <xsl:apply-templates select="$most" mode="q"/>.</xsl:when>
        <xsl:when test="$best/@value - $value &gt; 5 or $value - $best/@value &gt; 5"> Your mark, at <strong><xsl:apply-templates select="$best" mode="q"/></strong>, is the best place; from <xsl:apply-templates select="$least" mode="q"/> (shallower: <xsl:value-of select="$marks/place[@name = 'least']/@ends"/>) to <xsl:apply-templates select="$most" mode="q"/> (deeper: <xsl:value-of select="$marks/place[@name = 'most']/@ends"/>) holds.</xsl:when>
        <xsl:otherwise> That is your mark; from <xsl:apply-templates select="$least" mode="q"/> to <xsl:apply-templates select="$most" mode="q"/> holds.</xsl:otherwise>
      </xsl:choose>
    </xsl:if>
  </xsl:template>

  <xsl:template name="speed"><xsl:if test="speed != ''"> at <xsl:apply-templates select="speed" mode="q"/></xsl:if></xsl:template>

  <!-- What ends a step: the first of these that comes true. -->
  <xsl:template match="until">
    <xsl:if test="*">
      <xsl:text> until </xsl:text>
      <xsl:for-each select="*"><xsl:if test="position() &gt; 1"> or </xsl:if><xsl:apply-templates select="."/></xsl:for-each>
    </xsl:if>
  </xsl:template>
  <xsl:template match="until/hub-depth"><xsl:choose>
    <xsl:when test="@value &lt; 0">the hub is still <strong><xsl:call-template name="unsigned"/></strong> above the water</xsl:when>
    <xsl:otherwise>the water stands <strong><xsl:apply-templates select="." mode="q"/></strong> over the trailer's hub</xsl:otherwise></xsl:choose></xsl:template>
  <!-- A length below zero, whose sign the words have. -->
  <xsl:template name="unsigned"><span class="metric"><xsl:value-of select="translate(metric, '-', '')"/></span><span class="us"><xsl:value-of select="translate(us, '-', '')"/></span></xsl:template>
  <xsl:template match="until/rear-support-depth">the water stands <strong><xsl:apply-templates select="." mode="q"/></strong> over the rearmost support</xsl:template>
  <xsl:template match="until/after"><xsl:apply-templates select="." mode="q"/> have passed</xsl:template>
  <xsl:template match="until/distance-clear">the bow eye is <strong><xsl:apply-templates select="." mode="q"/></strong> clear of the last support</xsl:template>
  <xsl:template match="until/bow-distance">the bow eye is within <strong><xsl:apply-templates select="." mode="q"/></strong> of the last support</xsl:template>
  <xsl:template match="until/water-clear">the hub stands <strong><xsl:apply-templates select="." mode="q"/></strong> above the water</xsl:template>
  <xsl:template match="until/distance">the rig has moved <strong><xsl:apply-templates select="." mode="q"/></strong></xsl:template>
  <xsl:template match="until/trailer-distance">the trailer's coupling is <strong><xsl:apply-templates select="." mode="q"/></strong> from the ball</xsl:template>
  <xsl:template match="until/afloat">the boat floats free of the trailer</xsl:template>
  <xsl:template match="until/at-the-stop">the bow is home against its stop</xsl:template>
  <xsl:template match="until/captured">the keel lies in two supports</xsl:template>
  <xsl:template match="until/clear-of-rollers">nothing of the trailer carries the boat</xsl:template>
  <xsl:template match="until/slack-taken-up">the strap is taut</xsl:template>

  <xsl:template match="step[@kind = 'back down']">Back down the ramp<xsl:call-template name="speed"/><xsl:if test="distance != ''"> by <strong><xsl:apply-templates select="distance" mode="q"/></strong></xsl:if><xsl:apply-templates select="until"/>; foot brake, then park lock<xsl:if test="stands">: braked from there the rig comes to stand with <strong><xsl:apply-templates select="stands" mode="q"/></strong> over the hub</xsl:if>.<xsl:if test="until/hub-depth and not(following-sibling::step[@kind = 'back down']/until/hub-depth)"><xsl:call-template name="band"><xsl:with-param name="depth" select="(stands | until/hub-depth)[last()]"/></xsl:call-template></xsl:if></xsl:template>
  <xsl:template match="step[@kind = 'stop']">Stop and hold the rig with <xsl:choose><xsl:when test="brake = 'both'">foot brake and park lock</xsl:when><xsl:when test="brake = 'park'">the park lock</xsl:when><xsl:otherwise>the foot brake</xsl:otherwise></xsl:choose>.</xsl:template>
  <!-- A lesson tells what was done, without the advice. -->
  <xsl:template match="lesson/run[1]//step[@kind = 'let strap off']" priority="2">Unhook the strap from the bow eye.</xsl:template>
  <xsl:template match="lesson/run[1]//step[@kind = 'hook on']" priority="2">Hook the strap to the bow eye.</xsl:template>
  <xsl:template match="lesson/run[1]//step[@kind = 'wind in']" priority="2">Wind the boat in<xsl:apply-templates select="until"/>.</xsl:template>
  <xsl:template match="lesson/run[1]//step[@kind = 'back down']" priority="2">Back down the ramp<xsl:call-template name="speed"/><xsl:if test="distance != ''"> by <strong><xsl:apply-templates select="distance" mode="q"/></strong></xsl:if><xsl:apply-templates select="until"/>.</xsl:template>
  <xsl:template match="step[@kind = 'let strap off']">Only now unhook the strap from the bow eye, standing beside it, not behind the handle.<xsl:if test="../../marks/place[@name = 'least'][contains(@ends, 'running off')]"> Shallower than <xsl:apply-templates select="../../marks/place[@name = 'least']/hub" mode="q"/> over the hub <strong>the boat will run off</strong> its supports.</xsl:if></xsl:template>
  <xsl:template match="step[@kind = 'push off']">Push the boat off by the bow (about <xsl:apply-templates select="force" mode="q"/>)<xsl:apply-templates select="until"/>, a line in your hand.</xsl:template>
  <xsl:template match="step[@kind = 'hook on']">Hook the strap to the bow eye, standing beside the trailer, not in line with it.</xsl:template>
  <xsl:template match="step[@kind = 'wind in']">Wind the boat in<xsl:apply-templates select="until"/>; keep clear of strap and handle.</xsl:template>
  <xsl:template match="step[@kind = 'pull out']">Drive up the ramp gently<xsl:call-template name="speed"/><xsl:if test="distance != ''"> by <strong><xsl:apply-templates select="distance" mode="q"/></strong></xsl:if><xsl:apply-templates select="until"/>.</xsl:template>
  <xsl:template match="step[@kind = 'wait']">Wait<xsl:apply-templates select="until"/>.</xsl:template>
  <xsl:template match="step[@kind = 'take up slack']">Wind the strap until it is taut (<xsl:apply-templates select="tension" mode="q"/>).</xsl:template>
  <xsl:template match="step[@kind = 'pay out']">Let the winch's drum run<xsl:apply-templates select="until"/>, then set the ratchet.</xsl:template>
  <xsl:template match="step[@kind = 'free spool on']">Let the winch's drum run free.</xsl:template>
  <xsl:template match="step[@kind = 'free spool off']">Set the winch's ratchet.</xsl:template>
  <xsl:template match="step[@kind = 'chain on']">Hook the safety chain to the bow eye.</xsl:template>
  <xsl:template match="step[@kind = 'chain off']">Unhook the safety chain.</xsl:template>
  <xsl:template match="step[@kind = 'ties on']">Tie the transom down.</xsl:template>
  <xsl:template match="step[@kind = 'ties off']">Take the transom ties off.</xsl:template>
  <xsl:template match="step[@kind = 'drive on']">Drive the boat onto the trailer<xsl:call-template name="speed"/>, at most <xsl:apply-templates select="throttle" mode="q"/> of the throttle<xsl:apply-templates select="until"/>.</xsl:template>
  <xsl:template match="step[@kind = 'drive off']">Back the boat off the trailer<xsl:call-template name="speed"/>, at most <xsl:apply-templates select="throttle" mode="q"/> of the throttle<xsl:apply-templates select="until"/>.</xsl:template>
  <xsl:template match="step[@kind = 'engine down']">Tilt the engine down into the water; everybody clear of the propeller.</xsl:template>
  <xsl:template match="step[@kind = 'engine up']">Throttle off; tilt the engine out of the water.</xsl:template>
  <xsl:template match="step[@kind = 'hold line']">A helper takes a line to the <xsl:value-of select="to"/>, on the <xsl:value-of select="side"/> side, and holds (about <xsl:apply-templates select="force" mode="q"/>).</xsl:template>
  <xsl:template match="step[@kind = 'let line go']">The helper lets the line go.</xsl:template>
  <xsl:template match="step[@kind = 'uncouple']">With chocks set, take the trailer off the ball, onto its jockey wheel.</xsl:template>
  <xsl:template match="step[@kind = 'couple']">Put the trailer back on the ball, latch and chain.</xsl:template>
  <xsl:template match="step[@kind = 'rope on']">Fasten the rope from the vehicle to the trailer.</xsl:template>
  <xsl:template match="step[@kind = 'rope off']">Take the rope off.</xsl:template>
  <xsl:template match="step[@kind = 'lower on the rope']">Let the trailer down on its rope<xsl:call-template name="speed"/><xsl:apply-templates select="until"/>; nobody between vehicle and trailer.</xsl:template>
  <xsl:template match="step[@kind = 'haul out by the rope']">Pull the trailer out by the rope<xsl:call-template name="speed"/><xsl:apply-templates select="until"/>; nobody in line with the rope.</xsl:template>
  <xsl:template match="step[@kind = 'chock']">Put chocks on the seaward side of the <xsl:value-of select="wheels-of"/>'s wheels.</xsl:template>
  <xsl:template match="step[@kind = 'unchock']">Take the chocks away.</xsl:template>
  <xsl:template match="step[@kind = 'unlatch']">Open the latch of the tilting bed.</xsl:template>
  <xsl:template match="step[@kind = 'latch']">Fasten the tilting bed.</xsl:template>
  <xsl:template match="step"><xsl:call-template name="capital"><xsl:with-param name="text" select="@kind"/></xsl:call-template><xsl:apply-templates select="until"/>.</xsl:template>
</xsl:stylesheet>
