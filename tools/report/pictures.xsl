<?xml version="1.0" encoding="UTF-8"?>
<!-- SPDX-License-Identifier: GPL-3.0-or-later -->
<!-- Side views drawn from the result's lines, and gnuplot's pictures made fit for a page. -->
<xsl:stylesheet version="1.0" xmlns:xsl="http://www.w3.org/1999/XSL/Transform" xmlns:svg="http://www.w3.org/2000/svg"
  xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" exclude-result-prefixes="svg xlink">

  <xsl:template match="views">
    <div class="stills" xmlns="">
      <xsl:if test="count(/page/run) &gt; 1"><h3><xsl:value-of select="../@name"/></h3></xsl:if>
      <xsl:apply-templates select="view"/>
    </div>
  </xsl:template>

  <xsl:template match="view">
    <xsl:variable name="id" select="concat('view-', ../../@number, '-', count(preceding-sibling::view) + 1)"/>
    <xsl:element name="figure" namespace="">
      <xsl:attribute name="class">still</xsl:attribute>
      <svg viewBox="{@box}" role="img" aria-labelledby="{$id}-title {$id}-desc">
        <title id="{$id}-title">Side view: <xsl:value-of select="@event"/></title>
        <desc id="{$id}-desc">Vehicle on the left, sea on the right, to scale<xsl:if test="hub">; <xsl:value-of select="detail/metric | detail[not(metric)]"/></xsl:if></desc>
        <xsl:for-each select="shape">
          <xsl:choose>
            <xsl:when test="@name = 'hull' or @name = 'vehicle' or @name = 'wheel' or @name = 'support'"><polygon class="{@name}" points="{.}"/></xsl:when>
            <xsl:otherwise><polyline class="line {@name}" points="{.}"/></xsl:otherwise>
          </xsl:choose>
        </xsl:for-each>
      </svg>
      <xsl:element name="figcaption" namespace="">
        <xsl:element name="strong" namespace=""><xsl:if test="@mark"><xsl:value-of select="@mark"/>&#xA0;</xsl:if><xsl:value-of select="@event"/></xsl:element>
        <xsl:text>, </xsl:text><xsl:apply-templates select="time" mode="q"/>
        <xsl:if test="detail"><xsl:text>: </xsl:text><xsl:apply-templates select="detail" mode="q"/></xsl:if>
      </xsl:element>
    </xsl:element>
  </xsl:template>

  <!-- Words for who does not see them. -->
  <xsl:template name="picture-words">
    <xsl:choose>
      <xsl:when test="@name = 'strap'">Over time: pull of the winch strap and force on the handle, with their limits and the events as numbered lines.</xsl:when>
      <xsl:when test="@name = 'wheels'">Over time: water over the trailer's hub, the rear support and the vehicle's wheel, with the events as numbered lines.</xsl:when>
      <xsl:when test="@name = 'alignment'">Over time: how far the boat lies off the trailer's middle, its heading, heel and trim, with the events as numbered lines.</xsl:when>
      <xsl:when test="@name = 'supports'">Over time: load on each support, the bow stop and whatever else bears the hull, with the events as numbered lines.</xsl:when>
      <xsl:when test="@name = 'depth'">Cross-sections to scale at the shallowest, the best and the deepest place, and the usable band against the water level; the table beside has the figures.</xsl:when>
      <xsl:when test="@name = 'tide'">The tide of the day with its high and low waters, and the least level at which the ramp works.</xsl:when>
      <xsl:when test="@name = 'day'">The tide over the day with the usable windows shaded; the table has their clock times.</xsl:when>
      <xsl:when test="@name = 'year'">A calendar of usable hours, and springs and neaps apart; the tables have the figures.</xsl:when>
      <xsl:when test="@name = 'weigh'">Bars: how much of each rating and rule is used; the table of limits has the figures.</xsl:when>
      <xsl:when test="@name = 'seat'">Bars: how much of what supports and hull may bear is used; the table of limits has the figures.</xsl:when>
      <xsl:when test="@name = 'carried'">The hull on its trailer from the side and from above with the load on every roller, sections at the supports, and the hull's bending.</xsl:when>
      <xsl:when test="@name = 'brake'">The stop with each brake system, wheel slip, friction needed to hold by slope, and temperatures on a descent; the tables have the figures.</xsl:when>
      <xsl:otherwise>Picture of the figures in the tables beside it.</xsl:otherwise>
    </xsl:choose>
  </xsl:template>

  <xsl:template name="picture-title">
    <xsl:choose>
      <xsl:when test="@name = 'strap'">Strap and handle</xsl:when>
      <xsl:when test="@name = 'wheels'">Water over hub, support and wheel</xsl:when>
      <xsl:when test="@name = 'alignment'">How the boat lies on its trailer</xsl:when>
      <xsl:when test="@name = 'supports'">Load on the supports</xsl:when>
      <xsl:when test="@name = 'depth'">Where to stand</xsl:when>
      <xsl:when test="@name = 'tide'">The tide of the day</xsl:when>
      <xsl:when test="@name = 'day'">The hours of the day</xsl:when>
      <xsl:when test="@name = 'year'">The hours of the year</xsl:when>
      <xsl:when test="@name = 'weigh' or @name = 'seat'">Use of every limit</xsl:when>
      <xsl:when test="@name = 'carried'">The hull on its supports</xsl:when>
      <xsl:when test="@name = 'brake'">Stopping, holding, descent</xsl:when>
      <xsl:otherwise><xsl:value-of select="@name"/></xsl:otherwise>
    </xsl:choose>
  </xsl:template>

  <xsl:template match="picture">
    <xsl:variable name="id" select="concat('picture-', count(preceding::picture) + 1)"/>
    <xsl:element name="figure" namespace="">
      <xsl:attribute name="class">picture</xsl:attribute>
      <svg viewBox="{svg:svg/@viewBox}" color="black" font-family="sans-serif" role="img" aria-labelledby="{$id}-title {$id}-desc">
        <title id="{$id}-title"><xsl:call-template name="picture-title"/></title>
        <desc id="{$id}-desc"><xsl:call-template name="picture-words"/></desc>
        <xsl:apply-templates select="svg:svg/*[not(self::svg:title or self::svg:desc)]" mode="svg"><xsl:with-param name="id" select="$id"/></xsl:apply-templates>
      </svg>
      <xsl:element name="figcaption" namespace=""><xsl:call-template name="picture-title"/><xsl:element name="span" namespace=""><xsl:attribute name="class">us</xsl:attribute> (the picture is in metric units)</xsl:element></xsl:element>
    </xsl:element>
  </xsl:template>

  <xsl:key name="used" match="*[@xlink:href]" use="concat(generate-id(ancestor::picture), @xlink:href)"/>

  <!-- Ids get a prefix, so that two pictures do not share one; what is empty, never used or stands at the root is left out. -->
  <xsl:template match="svg:*" mode="svg">
    <xsl:param name="id"/>
    <xsl:element name="{local-name()}" namespace="http://www.w3.org/2000/svg">
      <xsl:for-each select="@*[name() != 'class' and name() != 'font-family' and not(name() = 'stroke-linecap' and . = 'butt') and not(name() = 'stroke-linejoin' and . = 'miter') and not(name() = 'color' and . = 'black') and not(name() = 'stroke-width' and . = '1.00')]">
        <xsl:choose>
          <xsl:when test="name() = 'id'"><xsl:attribute name="id"><xsl:value-of select="concat($id, '-', .)"/></xsl:attribute></xsl:when>
          <xsl:when test="local-name() = 'href'"><xsl:attribute name="href"><xsl:value-of select="concat('#', $id, '-', substring-after(., '#'))"/></xsl:attribute></xsl:when>
          <xsl:when test="contains(., 'url(#') or contains(., &quot;url('#&quot;)"><xsl:attribute name="{name()}"><xsl:value-of select="concat('url(#', $id, '-', translate(substring-after(., '#'), &quot;')&quot;, ''), ')')"/></xsl:attribute></xsl:when>
          <xsl:when test="name() = 'd' or name() = 'points'"><xsl:attribute name="{name()}"><xsl:value-of select="normalize-space(.)"/></xsl:attribute></xsl:when>
          <xsl:otherwise><xsl:attribute name="{name()}"><xsl:value-of select="."/></xsl:attribute></xsl:otherwise>
        </xsl:choose>
      </xsl:for-each>
      <xsl:apply-templates select="node()" mode="svg"><xsl:with-param name="id" select="$id"/></xsl:apply-templates>
    </xsl:element>
  </xsl:template>
  <xsl:template match="svg:g[not(.//svg:path | .//svg:text | .//svg:use | .//svg:polygon | .//svg:rect | .//svg:circle | .//svg:polyline | .//svg:ellipse | .//svg:image)]" mode="svg"/>
  <xsl:template match="svg:defs/*[@id and not(self::svg:filter)]" mode="svg" priority="1">
    <xsl:param name="id"/>
    <!-- a mark that another one is made of has to stay as well -->
    <xsl:if test="key('used', concat(generate-id(ancestor::picture), '#', @id))">
      <xsl:element name="{local-name()}" namespace="http://www.w3.org/2000/svg">
        <xsl:for-each select="@*">
          <xsl:choose>
            <xsl:when test="name() = 'id'"><xsl:attribute name="id"><xsl:value-of select="concat($id, '-', .)"/></xsl:attribute></xsl:when>
            <xsl:when test="local-name() = 'href'"><xsl:attribute name="href"><xsl:value-of select="concat('#', $id, '-', substring-after(., '#'))"/></xsl:attribute></xsl:when>
            <xsl:otherwise><xsl:attribute name="{name()}"><xsl:value-of select="."/></xsl:attribute></xsl:otherwise>
          </xsl:choose>
        </xsl:for-each>
        <xsl:apply-templates select="node()" mode="svg"><xsl:with-param name="id" select="$id"/></xsl:apply-templates>
      </xsl:element>
    </xsl:if>
  </xsl:template>
  <xsl:template match="text()" mode="svg"><xsl:value-of select="normalize-space(.)"/></xsl:template>
  <xsl:template match="svg:text//text() | svg:tspan//text()" mode="svg" priority="1"><xsl:value-of select="."/></xsl:template>
  <xsl:template match="comment() | processing-instruction()" mode="svg"/>
</xsl:stylesheet>
